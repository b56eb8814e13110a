"""Drafts and examinations kept at this workplace."""
