"""Serving the shop's own network: its name, its certificates, and the page that explains them."""
