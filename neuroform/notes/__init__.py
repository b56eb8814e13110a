"""Papers: the examination and its conclusions in, words and unsigned PDF pages out."""
