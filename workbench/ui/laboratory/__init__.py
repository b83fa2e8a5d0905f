"""Parts of the laboratory's pages: drawings, micrographs, and what a method can and cannot tell."""
