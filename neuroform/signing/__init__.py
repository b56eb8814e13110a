"""Certificates, signing and verifying: bytes in, bytes and status out."""
