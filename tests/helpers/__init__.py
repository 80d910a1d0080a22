"""What several tests share: small collections, slow truths, random records, the program as a process, pages read."""
