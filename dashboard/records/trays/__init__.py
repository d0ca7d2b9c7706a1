"""Sheets on their way into the records of a server: each technician's in a tray of its own, on the disk, until they are kept or left.

``desk`` is the folder that holds them; ``tray`` one of them and its files; ``looked`` reads a tray into a copy of the trial and says what
there is; ``sharing`` joins answers that two gave at once; ``keeping`` puts what was read into the records, ``folders`` where these are a
folder of tables; ``sent`` knows what a bench page sent before; ``kept`` lists what came in and takes it back.
"""
