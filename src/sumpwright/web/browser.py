# SPDX-License-Identifier: Apache-2.0
"""Opens an address in the person's browser, where there is a screen for one."""

import os
import sys
import threading
import webbrowser


def has_screen() -> bool:
    """Whether a browser can be seen: without a screen one of text would take the terminal."""
    if sys.platform in ("win32", "darwin"):
        return True
    return any(os.environ.get(name) for name in ("DISPLAY", "WAYLAND_DISPLAY", "BROWSER"))


def show(address: str) -> bool:
    """Open `address` without waiting for the browser; False where there is no screen."""
    if not has_screen():
        return False
    threading.Thread(target=webbrowser.open, args=(address,), daemon=True).start()
    return True
