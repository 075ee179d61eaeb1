"""equipour for programs: numbers in, typed results out, with the field names of the documents."""
