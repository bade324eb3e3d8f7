"""What to do and what to leave to others: cautions first."""
