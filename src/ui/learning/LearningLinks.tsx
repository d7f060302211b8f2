import { hrefOf } from '../state/route.ts';
import { farmsHere } from './farmsHere.ts';

/** The way to each farm's learning. */
export function LearningLinks() {
  const farms = farmsHere();
  if (farms.length === 0) return null;
  return (
    <section class="card">
      <h2>Learning from corrections</h2>
      {farms.map(({ id, name }) => (
        <a key={id} class="button wide" href={hrefOf('learning', id)}>
          {name}
        </a>
      ))}
    </section>
  );
}
