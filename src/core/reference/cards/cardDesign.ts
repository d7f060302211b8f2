import aruco from 'js-aruco2';

/**
 * The marker cards: the open fiducial family ArUco MIP 36h12 (Garrido-Jurado, Muñoz-Salinas, Madrid-Cuevas &
 * Medina-Carnicer 2016, Pattern Recognition 51), 6 x 6 bits in a black border one cell wide. Number 0 lies at the start
 * of the stretch, 1 at its end; 2 and 3 may lie between.
 */
export const CARD_FAMILY = 'ARUCO_MIP_36h12';
export const CARD_IDS = [0, 1, 2, 3] as const;
/** Side of the printed black square, metres. */
export const MARKER_SIDE_M = 0.12;
/** Cells along a side of the black square, border included. */
export const MARKER_CELLS = 8;

const { codeList } = new aruco.AR.Dictionary(CARD_FAMILY);

/** Rows of cells of a marker from its top, true where white. Throws RangeError for a number that is no card's. */
export function markerCells(id: number): boolean[][] {
  if (!CARD_IDS.some((known) => known === id)) throw new RangeError(`there is no card ${id}; cards are 0 to 3`);
  const code = codeList[id]!;
  const inner = MARKER_CELLS - 2;
  return Array.from({ length: MARKER_CELLS }, (_, row) =>
    Array.from({ length: MARKER_CELLS }, (_unused, column) => {
      const inside = row > 0 && column > 0 && row <= inner && column <= inner;
      return inside && code[(row - 1) * inner + column - 1] === '1';
    }),
  );
}
