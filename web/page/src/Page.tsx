import { useEffect, useMemo, useState } from 'preact/hooks';
import type { SessionFacts } from '../../shared/session.ts';
import { CompareView } from './compare/CompareView.tsx';
import { ShopView } from './forms/ShopView.tsx';
import { TicketView } from './forms/TicketView.tsx';
import { JobsView } from './jobs/JobsView.tsx';
import { PapersView } from './papers/PapersView.tsx';
import { Link } from './parts/Link.tsx';
import { ReviewView } from './review/ReviewView.tsx';
import { type Route, useRoute } from './route.ts';
import { SignIn } from './SignIn.tsx';
import { change, signedOut } from './server/ask.ts';
import { useAnswer } from './server/useAnswer.ts';
import { remember, remembered, showTheme, type Theme } from './settings.ts';
import { useWords, WordsContext } from './words/useWords.ts';
import { type Language, languageNames, languages, usualLanguage, wordsIn } from './words/wordsIn.ts';

const themes: readonly Theme[] = ['system', 'light', 'dark'];

export function Page() {
  const route = useRoute();
  const [language, setLanguage] = useState<Language>(() =>
    usualLanguage([remembered('language') ?? '', ...navigator.languages]),
  );
  const [theme, setTheme] = useState<Theme>(() => themes.find((one) => one === remembered('theme')) ?? 'system');
  const [keys, setKeys] = useState(() => remembered('keys') ?? 'on');
  const words = useMemo(() => wordsIn(language), [language]);
  const { say } = words;
  const session = useAnswer<SessionFacts>('/api/session');
  const mustSignIn = session.answer?.asksForAccount === true && !session.answer.signedIn;
  const own = session.answer?.name ?? null;
  useEffect(() => {
    // Whoever has an account need not say who they are.
    if (own !== null) remember('name', own);
  }, [own]);
  useEffect(() => {
    addEventListener(signedOut, session.again);
    return () => removeEventListener(signedOut, session.again);
  }, [session.again]);
  const signOut = async () => {
    await change('DELETE', '/api/session').catch(() => undefined);
    session.again();
  };
  useEffect(() => {
    document.documentElement.lang = language;
    showTheme(theme);
  }, [language, theme]);
  return (
    <WordsContext.Provider value={words}>
      <header class="page-head">
        <Link to="/" className="page-name">
          Plateglass
        </Link>
        <nav aria-label={say('nav')}>
          <Link to="/" isHere={route.view === 'jobs'} className="nav-link">
            {say('jobs')}
          </Link>
          <Link to="/shop" isHere={route.view === 'shop'} className="nav-link">
            {say('shop')}
          </Link>
        </nav>
        <details class="settings">
          <summary>{say('settings')}</summary>
          <div class="settings-panel">
            <label>
              {say('settings.language')}
              <select
                value={language}
                onChange={(event) => {
                  remember('language', event.currentTarget.value);
                  setLanguage(event.currentTarget.value as Language);
                }}
              >
                {languages.map((one) => (
                  <option key={one} value={one} lang={one}>
                    {languageNames[one]}
                  </option>
                ))}
              </select>
            </label>
            <label>
              {say('settings.theme')}
              <select
                value={theme}
                onChange={(event) => {
                  remember('theme', event.currentTarget.value);
                  setTheme(event.currentTarget.value as Theme);
                }}
              >
                {themes.map((one) => (
                  <option key={one} value={one}>
                    {say(`theme.${one}`)}
                  </option>
                ))}
              </select>
            </label>
            <label class="check">
              <input
                type="checkbox"
                checked={keys === 'on'}
                onChange={(event) => {
                  const next = event.currentTarget.checked ? 'on' : 'off';
                  remember('keys', next);
                  setKeys(next);
                }}
              />
              {say('settings.keys')}
            </label>
            {own !== null && (
              <div class="row">
                <strong>{own}</strong>
                <button type="button" class="button" onClick={signOut}>
                  {say('signOut')}
                </button>
              </div>
            )}
          </div>
        </details>
      </header>
      {mustSignIn ? <SignIn onSignedIn={session.again} /> : <View route={route} />}
    </WordsContext.Provider>
  );
}

function View({ route }: { readonly route: Route }) {
  const { say } = useWords();
  if (route.view === 'jobs') return <JobsView />;
  if (route.view === 'review') return <ReviewView key={route.jobId} jobId={route.jobId} revision={route.revision} />;
  if (route.view === 'ticket') return <TicketView jobId={route.jobId} />;
  if (route.view === 'papers') return <PapersView key={`${route.jobId}/${route.revision}`} {...route} />;
  if (route.view === 'compare') return <CompareView key={`${route.jobId}/${route.before}/${route.after}`} {...route} />;
  if (route.view === 'shop') return <ShopView />;
  return (
    <main class="plain">
      <h1>{say('nowhere')}</h1>
      <Link to="/">{say('jobs')}</Link>
    </main>
  );
}
