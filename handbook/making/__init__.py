"""From a content folder to the finished files of its site, anew only where something changed."""
