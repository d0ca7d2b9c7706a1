"""The pages by which records come in, asked as a browser would, and as one that means harm."""
