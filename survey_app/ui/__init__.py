"""The app: three doors, one per person. Pages are thin; everything they show comes from `Survey`."""
