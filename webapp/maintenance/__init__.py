"""Keeping the shop's log: backups and their rotation, restoring, checking, moving it elsewhere."""
