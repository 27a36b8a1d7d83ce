"""The strictest content policy that the pages are made for, and a note of every breach."""

from __future__ import annotations

POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; "
    "font-src 'self'; connect-src 'self'; media-src 'self'; base-uri 'self'; form-action 'self'"
)
NOTE_BREACHES = """
addEventListener("securitypolicyviolation", (event) => {
  const kept = JSON.parse(sessionStorage.getItem("breaches") || "[]");
  kept.push(`${location.pathname}: ${event.violatedDirective} ${event.blockedURI}`);
  sessionStorage.setItem("breaches", JSON.stringify(kept));
});
"""
BREACHES = "sessionStorage.getItem('breaches')"
