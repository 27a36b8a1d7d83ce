"""Engines: what turns rendered pages into the finished bytes of a site's pages."""
