"""What the site is generated from: shortcodes in prose, pages of the reference, worked examples. A door for MkDocs."""
