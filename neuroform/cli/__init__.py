"""The commands: exam files and papers in, answers for people and machines out."""
