"""The director's binder: what is held in the hand before a band, and is for no reader of the site.

Each room of it is a module that gives its files as values; `assemble` has them in one tuple,
`writing` puts them whole into a folder that is kept apart from every site.
"""
