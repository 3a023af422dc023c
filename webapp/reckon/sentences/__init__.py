"""Sentences, made from codes and values."""
