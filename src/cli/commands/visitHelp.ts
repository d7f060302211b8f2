export const VISIT_HELP = `rowledger visit FILE [options]     the verdict of a field visit, from a visit document
rowledger visit --csv COUNTS       hand counts from a table, as spots for a visit document

  --json                 all numbers, as one JSON object
  --explain              every rule and threshold with its source, after the verdict
  --html                 the verdict as a printable page
  --csv COUNTS           add the hand counts of this table to the visit; "-" reads standard input
  --temperatures TABLE   add daily temperatures: columns date, medium (soil or air), min and max
                         with units in the cells, or min_f, max_f, min_c, max_c; rain
  --targets TABLE        an organisation's own targets (rowledger/targets@1) laid over the table
  --before VISIT         a visit to another field counted before, for Taylor's power law; may be repeated
  --out NEW              also write the visit with what was added to a new file
  --demo                 list the demonstration fields; with a FIELD in place of FILE, assess it

columns of COUNTS, one line for each count:
  spot, plants           needed; plants of adjacent rows parted by spaces: 52 48
  kind                   rows (default), hoop or quadrat
  length                 of the rows, or of the quadrat: 17 ft 5 in
  diameter, width        of the hoop, of the quadrat
  gaps                   bare runs of row, parted by semicolons: 26 in; 31 in
  zone, by, counted_at, latitude, longitude, note

exit status: 0 done, 2 wrong usage, 3 a file could not be read
`;
