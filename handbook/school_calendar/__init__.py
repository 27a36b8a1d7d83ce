"""Calendar files as districts and schools publish them (RFC 5545): bytes in, titled days out."""
