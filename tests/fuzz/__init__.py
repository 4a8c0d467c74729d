"""What every reader of a file is fed that no cook would write: small corpora, each input named for what it is."""
