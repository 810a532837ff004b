"""What dancers take home: sound files."""
