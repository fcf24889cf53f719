"""The embedded Redis-protocol server: the broker of background work on one machine."""

SOCKET = "broker.sock"
