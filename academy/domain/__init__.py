"""The rules of the trade as computation only: values in, values out.

Nothing below this package knows the web, the database, Markdown, the clock or
chance; a time and a random generator arrive as arguments.
"""
