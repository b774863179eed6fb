"""What is served over HTTP: a farm's calendar, to subscribe to."""

from scheduler.serve.feed import Feed, feed_app, feed_of, path_of

__all__ = ["Feed", "feed_app", "feed_of", "path_of"]
