"""What readers read, in their language: messages from catalogues, and texts of the content.

`speaking` sets the language of all that is made within it; nothing else does.
"""

from handbook.outputs.i18n.messages import gettext, gettext_noop, ngettext, npgettext, pgettext
from handbook.outputs.i18n.speaking import Speech, speaking, speech

__all__ = [
    "Speech",
    "gettext",
    "gettext_noop",
    "ngettext",
    "npgettext",
    "pgettext",
    "speaking",
    "speech",
]
