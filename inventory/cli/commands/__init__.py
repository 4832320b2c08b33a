"""One module a command, in the room of its group (`cli.app.ROOMS`)."""
