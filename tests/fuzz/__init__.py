"""Content spoilt at random: whatever a director types is answered by sentences or by a site."""
