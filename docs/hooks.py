"""MkDocs hooks. The work is in ``boardwright.site``."""

from boardwright.site.hooks import (  # noqa: F401
    on_config,
    on_files,
    on_page_content,
    on_page_context,
    on_page_markdown,
    on_post_build,
    on_post_page,
    on_post_template,
)
