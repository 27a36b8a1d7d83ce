"""What a site tells of earlier publications; set into finished pages, so that none is made anew because of it."""
