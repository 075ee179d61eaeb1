"""What moves on the shelf: counted in and out, sold, logged, taken back."""
