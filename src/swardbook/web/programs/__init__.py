"""What other programs are told: which ways in there are, what goes in and what comes out."""
