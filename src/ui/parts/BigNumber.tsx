/** A quantity as said by the engine, its number large and its unit beside it. */
export function BigNumber({ says }: { says: string }) {
  const [number, ...unit] = says.split(' ');
  return (
    <p class="big">
      {number}
      <span class="small"> {unit.join(' ')}</span>
    </p>
  );
}
