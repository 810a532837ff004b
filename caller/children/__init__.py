"""Children of our own program: started apart from the working folder, bounded, and ended with us."""
