"""What can be recorded at the bedside, and one examination that was."""
