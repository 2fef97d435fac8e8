"""Parts of documents: each takes a reader and gives blocks; written once, used by any document."""
