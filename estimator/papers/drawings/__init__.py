"""Line drawings to scale, for every paper.

    pencil.py    a pencil that draws in mm at a scale: lines, boxes, words, sizes with their dimension lines
    front.py     one cabinet from the front, worked out from its parts: doors, drawers, shelves behind open fronts
    run.py       the cabinets of a room side by side, what hangs above what stands
    pictures.py  both as flowables for a paper

Black lines, sizes in place, plain words: as if pencilled on the board.
"""
