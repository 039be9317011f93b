"""The sections of the method statement in their order; each is a module beside this one."""

from __future__ import annotations

CLIENT = (
    *("document", "unconfirmed", "scope", "drawings", "assumptions", "exclusions", "base"),
    *("method", "people", "programme", "client", "risks", "materials", "environment", "quality", "signoffs"),
    *("options", "price", "variations", "acceptance"),
)
