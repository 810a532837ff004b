"""The class book: what each class was taught, kept on this machine."""
