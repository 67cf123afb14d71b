"""From ``Spec`` to ``Board``: power tree, audio, conductors."""
