"""What an entry of each kind must look like."""
