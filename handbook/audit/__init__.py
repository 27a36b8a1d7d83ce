"""A look at a finished site for what should not be public, before it is published."""

from handbook.audit.audit import audit
from handbook.audit.model import Concern, Finding, Origin
from handbook.audit.telling import finding_lines

__all__ = ["Concern", "Finding", "Origin", "audit", "finding_lines"]
