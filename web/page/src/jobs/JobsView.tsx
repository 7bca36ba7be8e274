import { useEffect, useState } from 'preact/hooks';
import type { JobLines, ProgressEvent } from '../../../shared/jobs.ts';
import { Trouble } from '../parts/Trouble.tsx';
import { ask } from '../server/ask.ts';
import { useAnswer } from '../server/useAnswer.ts';
import { useEvents } from '../server/useEvents.ts';
import { useWords } from '../words/useWords.ts';
import { BringJob } from './BringJob.tsx';
import { type Filter, FilterForm, queryOf } from './FilterForm.tsx';
import { JobRow } from './JobRow.tsx';

/** Typing is over when nothing came for this long. */
const typedMs = 250;

/** The jobs, latest first, as they are now. */
export function JobsView() {
  const { say } = useWords();
  const [filter, setFilter] = useState<Filter>({ text: '', verdict: '', state: '', standing: '', days: '' });
  const [query, setQuery] = useState('');
  const [more, setMore] = useState<JobLines['jobs']>([]);
  const [next, setNext] = useState<string | null>(null);
  const [progress, setProgress] = useState<ReadonlyMap<number, ProgressEvent>>(new Map());
  const first = useAnswer<JobLines>(`/api/jobs?${query}`);
  const lines = first.answer;
  useEffect(() => {
    const timer = setTimeout(() => setQuery(queryOf(filter, Date.now())), typedMs);
    return () => clearTimeout(timer);
  }, [filter]);
  useEffect(() => {
    setMore([]);
    setNext(lines?.next ?? null);
  }, [lines]);
  useEffect(() => {
    document.title = `${say('jobs')} · Plateglass`;
  }, [say]);
  useEvents((event) => {
    if (event.what === 'progress') setProgress((before) => new Map(before).set(event.jobId, event));
    else first.again();
  });
  const showMore = async () => {
    const page = await ask<JobLines>(`/api/jobs?${query}&after=${encodeURIComponent(next!)}`);
    setMore((before) => [...before, ...page.jobs]);
    setNext(page.next);
  };
  const jobs = [...(lines?.jobs ?? []), ...more];
  return (
    <main class="plain wide">
      <h1>{say('jobs')}</h1>
      <BringJob onBrought={first.again} />
      <FilterForm filter={filter} onFilter={setFilter} />
      {first.error !== null && <Trouble error={first.error} />}
      <p class="unseen" role="status">
        {lines === null ? say('loading') : say('jobs.count', { count: jobs.length })}
      </p>
      {lines !== null && jobs.length === 0 && <p class="empty">{say(query === '' ? 'jobs.none' : 'jobs.noneFound')}</p>}
      <ul class="jobs">
        {jobs.map((job) => (
          <JobRow
            key={job.jobId}
            job={job}
            now={lines?.now ?? job.arrivedAt}
            progress={progress.get(job.jobId) ?? null}
          />
        ))}
      </ul>
      {next !== null && (
        <button type="button" class="button" onClick={showMore}>
          {say('jobs.more')}
        </button>
      )}
    </main>
  );
}
