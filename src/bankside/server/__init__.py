"""The app for the bank as files: on this machine's own address, or for any web host."""
