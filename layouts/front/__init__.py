"""The command line and the local page. They only call the job and the public names of marks."""
