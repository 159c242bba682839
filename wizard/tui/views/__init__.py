"""What is on the screens, as pure functions from the job to lines."""
