/** x times x. Engines round `x ** 2` differently in the last bit, and photos must count the same in all of them. */
export function square(x: number): number {
  return x * x;
}
