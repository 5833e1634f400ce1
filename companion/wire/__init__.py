"""What travels: the log as CSV, the bundle and the acknowledgement as JSON. Pure."""
