"""specgen: parapet assemblies in YAML, checked, calculated, specified and reviewed."""

__version__ = "0.1.0"
