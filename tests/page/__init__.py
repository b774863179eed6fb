"""summary.html in a real browser: Debian's Chromium, driven by playwright."""
