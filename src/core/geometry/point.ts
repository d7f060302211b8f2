/** A point or vector in a plane. What plane, and which unit, the name of the value says. */
export type Point = readonly [x: number, y: number];

/** A point or direction in space. */
export type Vector3 = readonly [x: number, y: number, z: number];
