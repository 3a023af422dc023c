"""The phone's side of the service: app shell, push and pull, the compiled arithmetic."""
