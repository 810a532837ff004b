"""What is taught: stages of a walkthrough, a drill and a practice, as plain values."""
