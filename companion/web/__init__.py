"""The pages and the interface over HTTP. Views parse, call one function below, render."""
