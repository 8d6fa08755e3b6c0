"""The public test kit: a virtual clock, a bench to speak to, and a disk that loses what was not made safe."""
