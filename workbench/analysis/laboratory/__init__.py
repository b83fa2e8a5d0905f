"""What curves, pictures and tables of the laboratory say, with the samples they were read on."""
