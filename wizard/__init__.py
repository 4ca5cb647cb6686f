"""The interview, storage, rendering and command line."""
