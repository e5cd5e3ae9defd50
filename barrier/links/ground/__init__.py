"""What a mount stands on: its geometry, the stiffness bracket, and how its base gives way."""
