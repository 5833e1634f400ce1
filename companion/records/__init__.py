"""What is kept. The only room that talks SQL."""
