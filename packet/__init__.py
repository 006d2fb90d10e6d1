"""Build packets for folding shelters made of rigid foam boards and tape."""

__version__ = "0.1.0"
