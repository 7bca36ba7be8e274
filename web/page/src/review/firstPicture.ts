const id = 'first-picture';

/** Shows the picture of a job where its film will lie, unless the server has put it there already. */
export function showFirstPicture(jobId: number, revision: number | null): void {
  const src = `/api/jobs/${jobId}/picture${revision === null ? '' : `?revision=${revision}`}`;
  const shown = document.getElementById(id);
  if (shown?.getAttribute('src') === src) return;
  shown?.remove();
  const picture = new Image();
  Object.assign(picture, { id, className: 'film-preview', alt: '', src });
  document.body.prepend(picture);
}

/** The film itself is there, or another view. */
export function hideFirstPicture(): void {
  document.getElementById(id)?.remove();
}
