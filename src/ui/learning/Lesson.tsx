import type { Head } from '../../core/learning/head.ts';
import type { LearningReply } from '../../worker/learningApi.ts';
import { pageRefusal } from '../parts/pageWords.ts';
import { takeHead } from './learning.ts';

/** Before and after on photos that the learning had not seen; offered only where it pays. */
export function Lesson({ farm, lesson, inUse }: { farm: string; lesson: LearningReply; inUse: Head | null }) {
  if (!lesson.ok) return <p role="alert">{pageRefusal(lesson)}</p>;
  const { decision, head, photos } = lesson.value;
  const { before, after } = decision;
  return (
    <section class="card" aria-live="polite">
      {before !== null && after !== null && (
        <>
          <p class="big">
            {before.toFixed(1)} <span class="small">to</span> {after.toFixed(1)}
          </p>
          <p>corrections a photo, stock detector to learned, on photos kept out of the learning</p>
        </>
      )}
      <p>{decision.verdict === 'adopt' ? `It pays: ${decision.reason}.` : `Not offered: ${decision.reason}.`}</p>
      {head !== null && head.id !== inUse?.id && (
        <button type="button" class="main" onClick={() => void takeHead(farm, head)}>
          Use it for new counts
        </button>
      )}
      {head !== null && head.id === inUse?.id && <p role="status">In use for new counts.</p>}
      {photos.length > 0 && (
        <details>
          <summary>Photo by photo</summary>
          <table>
            <thead>
              <tr>
                <th>Photo</th>
                <th>Marks</th>
                <th>Stock</th>
                <th>Learned</th>
              </tr>
            </thead>
            <tbody>
              {photos.map((one) => (
                <tr key={one.photo}>
                  <td>{one.photo.slice(0, 8)}</td>
                  <td>{one.marks}</td>
                  <td>{one.before}</td>
                  <td>{one.after}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </details>
      )}
    </section>
  );
}
