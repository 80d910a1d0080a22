"""From page models to bytes: themes, prose, drawings, machine files."""
