"""A practice session: a stream whose discharge is known, and what somebody does at it."""
