"""Questions asked of any calculator, written once."""
