"""One function for each thing a person does with an examination."""
