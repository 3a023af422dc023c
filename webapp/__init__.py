"""Axlewright: the shop's log for centring a solid axle held by a track bar."""
