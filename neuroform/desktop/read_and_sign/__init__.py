"""The last page: what is lacking, the words of the note, the paper itself, and the signature."""
