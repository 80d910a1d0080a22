"""The keeper's daily work in a browser on the same machine: one page a subject, each written through the one writer."""
