import { useEffect, useMemo } from 'preact/hooks';
import type { ReportJson } from '../../../../src/report/reportJson.ts';
import { shownText } from '../../../../src/report/words.ts';
import type { JobFacts, RevisionFacts } from '../../../shared/jobs.ts';
import type { PlateList } from '../../../shared/plates.ts';
import { type Asked, useAnswer } from '../server/useAnswer.ts';
import { useEvents } from '../server/useEvents.ts';
import { shownReport } from './shownReport.ts';

export interface Review {
  readonly job: Asked<JobFacts>;
  readonly revision: RevisionFacts | null;
  readonly report: Asked<ReportJson>;
  readonly plates: Asked<PlateList>;
  /** With "{place}" where the place of a tile goes. */
  readonly tilesUrl: string;
}

/** One revision of a job and all that was found out about it, kept up to date. */
export function useReview(jobId: number, wanted: number | null): Review {
  const job = useAnswer<JobFacts>(`/api/jobs/${jobId}`);
  useEvents((event) => {
    if (event.what === 'connectedAgain' || (event.what === 'job' && event.jobId === jobId)) job.again();
  });
  const revision = job.answer?.revisions.find((one) => wanted === null || one.revision === wanted) ?? null;
  const base = revision === null ? null : `/api/jobs/${jobId}/${revision.revision}`;
  const has = (name: string) => revision?.artifacts.some((artifact) => artifact.name === name) === true;
  // What was checked again stands under another address, so that nothing old is shown.
  const turn = `?checked=${revision?.finishedAt ?? 0}`;
  const asked = useAnswer<ReportJson>(has('report.json') ? `${base}/files/report.json${turn}` : null);
  const report = useMemo(
    () => ({ ...asked, answer: asked.answer === null ? null : shownReport(asked.answer) }),
    [asked.answer, asked.error],
  );
  const plates = useAnswer<PlateList>(has('plates/plates.json') ? `${base}/plates${turn}` : null);
  const version = plates.answer?.version ?? '';
  const tilesUrl = useMemo(() => `${base}/tiles/{place}?${version}`, [base, version]);
  useEffect(() => {
    if (job.answer !== null) document.title = `${shownText(job.answer.jobName)} · Plateglass`;
  }, [job.answer]);
  return { job, revision, report, plates, tilesUrl };
}
