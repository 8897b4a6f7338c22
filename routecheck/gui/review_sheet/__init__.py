"""The review sheet on paper: its pictures, PDF files and printing."""
