# SPDX-License-Identifier: Apache-2.0
"""What a page sent along with a request."""

from collections.abc import Mapping
from typing import Any

from starlette.requests import Request

from sumpwright.web.desk import RefusedError


async def body_of(request: Request) -> Mapping[str, Any]:
    """The JSON object that was sent."""
    try:
        body = await request.json()
    except (ValueError, RecursionError):
        raise RefusedError(400, "what was sent is not JSON") from None
    if not isinstance(body, dict):
        raise RefusedError(400, "what was sent is not a JSON object")
    return body
