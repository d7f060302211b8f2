import { lazy, Suspense } from 'preact/compat';
import { useEffect, useRef } from 'preact/hooks';
import { LearningPlace } from './learning/LearningPlace.tsx';
import { FieldPage } from './pages/FieldPage.tsx';
import { NewFieldPage } from './pages/NewFieldPage.tsx';
import { PlantingPage } from './pages/PlantingPage.tsx';
import { SettingsPage } from './pages/SettingsPage.tsx';
import { SpotPage } from './pages/SpotPage.tsx';
import { TallyPage } from './pages/TallyPage.tsx';
import { TodayPage } from './pages/TodayPage.tsx';
import { VerdictPage } from './pages/VerdictPage.tsx';
import { VisitPage } from './pages/VisitPage.tsx';
import { VisitsPage } from './pages/VisitsPage.tsx';
import { SignIn } from './parts/SignIn.tsx';
import { Unkept } from './parts/Unkept.tsx';
import { Waiting } from './parts/Waiting.tsx';
import { queueState, ready, trouble } from './state/app.ts';
import { hrefOf, route } from './state/route.ts';

// What counting does not need comes when it is asked for; offline it lies on the device like the rest.
const NotesPage = lazy(() => import('./notes/NotesPage.tsx').then((module) => module.NotesPage));
const TargetsPage = lazy(() => import('./pages/TargetsPage.tsx').then((module) => module.TargetsPage));
const OutlinePage = lazy(() => import('./pages/OutlinePage.tsx').then((module) => module.OutlinePage));

export function App() {
  const main = useRef<HTMLElement>(null);
  const place = route.value.join('/');
  useEffect(() => {
    scrollTo(0, 0);
    main.current?.focus({ preventScroll: true });
  }, [place]);
  return (
    <>
      <header class="bar">
        <a href={hrefOf()} class="bar-name">
          Rowledger
        </a>
        <Waiting />
        <a href={hrefOf('settings')} class="bar-link">
          Settings
        </a>
      </header>
      {trouble.value !== null && (
        <p class="trouble" role="alert">
          {trouble.value}
        </p>
      )}
      {queueState.value.trouble?.code === 'not-signed-in' && <SignIn />}
      <Unkept />
      <main ref={main} tabIndex={-1}>
        {ready.value ? (
          <Suspense fallback={<p class="quiet">Opening</p>}>
            <Page parts={route.value} />
          </Suspense>
        ) : (
          <p class="quiet">Opening</p>
        )}
      </main>
    </>
  );
}

function Page({ parts }: { parts: readonly string[] }) {
  const [page, id = '', part, spot = '', entry = '', count = ''] = parts;
  if (page === 'targets') return <TargetsPage />;
  if (page === 'settings') return <SettingsPage />;
  if (page === 'learning') return <LearningPlace farm={id} key={id} />;
  if (page === 'new-field') return <NewFieldPage key="" />;
  if (page === 'visits') return <VisitsPage />;
  if (page === 'field' && part === 'new-planting') return <NewFieldPage id={id} key={id} />;
  if (page === 'field' && part === 'outline') return <OutlinePage id={id} key={id} />;
  if (page === 'field' && part === 'planting') return <PlantingPage id={id} planting={spot} />;
  if (page === 'field') return <FieldPage id={id} key={id} />;
  if (page === 'visit' && part === 'spot' && count !== '') return <TallyPage id={id} spot={spot} count={count} />;
  if (page === 'visit' && part === 'spot') return <SpotPage id={id} spot={spot} key={spot} />;
  if (page === 'visit' && part === 'verdict') return <VerdictPage id={id} />;
  if (page === 'visit' && part === 'notes') return <NotesPage id={id} part={spot} entry={entry} key={spot} />;
  if (page === 'visit') return <VisitPage id={id} key={id} />;
  return <TodayPage />;
}
