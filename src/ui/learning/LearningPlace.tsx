import { lazy, Suspense } from 'preact/compat';

const LearningPage = lazy(() => import('./LearningPage.tsx').then((module) => module.LearningPage));

/** The learning page, fetched when somebody goes there. */
export function LearningPlace({ farm }: { farm: string }) {
  return (
    <Suspense fallback={<p class="quiet">Opening</p>}>
      <LearningPage farm={farm} />
    </Suspense>
  );
}
