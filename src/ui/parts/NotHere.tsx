import { hrefOf } from '../state/route.ts';

/** What was asked for is not held here, and the way on. */
export function NotHere({ what }: { what: 'visit' | 'field' | 'planting' | 'count' }) {
  return (
    <>
      <p class="quiet">This {what} is not on this device. Go online, and it is fetched if your server has it.</p>
      <a class="button main wide" href={hrefOf()}>
        All fields
      </a>
    </>
  );
}
