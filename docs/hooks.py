"""MkDocs hooks. The work is in ``boardwright.site``."""

from boardwright.site.hooks import on_config, on_files, on_page_content, on_page_context, on_page_markdown, on_post_page  # noqa: F401
