"""Navigation data in ARINC 424-18 records: only here are its columns, section letters and codes known."""
