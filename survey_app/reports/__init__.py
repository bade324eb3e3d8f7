"""What leaves the survey: content as plain data once, then one module per format."""
