"""What a made drink is to the people around it: its method, its card."""
