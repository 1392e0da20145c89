"""What the server of an office answers under `api/1/`, a topic a module; docs/server.md says it."""
