export const COUNT_HELP = `rowledger count PHOTO... [options]

A LENGTH carries its unit: 30in, 10ft, 3.05m, 25cm. PHOTO may be a folder.

  --reference WHAT       what lies beside the row (default auto: look for any known kind)
                           cards               printed by \`rowledger cards\` (recommended)
                           tape:in  tape:cm    a measuring tape with these graduations
                           tape:10ft           a tape of this whole length, both ends in the photo
                           rod:6ft             a straight rod of this length
                           rod:banded:1ft      a rod whose bands are this long
                           frame:1mx0.5m       a rectangular frame of these inside sizes
  --mark X,Y=LENGTH      the photo pixel X,Y lies at this reading (give two or more)
  --mm-per-px N          a known scale, for a straight-down photo from a fixed height
  --camera-height LENGTH how high the camera was held (default about 1.5 m, loosely)
  --gravity X,Y,Z        direction of gravity in camera axes, where the phone recorded it
  --stretch FROM..TO     count between these readings, such as 0ft..10ft
  --row-width LENGTH     distance between rows; needed for plants per acre
  --seed-spacing LENGTH  the planter's in-row spacing, for multiples and misses
  --gap LENGTH           a bare run longer than this is a gap (default 30cm)
  --model NAME           which detector; none is colour alone
  --head FILE            what was learned from a farm's corrections, on top of the detector: its heads document
  --picture OUT.png      a picture that shows why (a folder for several photos)
  --json                 one JSON object a photo, one a line

Exit status: 0 counted; 2 wrong usage; 3 a photo could not be read; 4 counted, but without a scale.
`;
