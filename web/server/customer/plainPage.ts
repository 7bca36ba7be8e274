import type { FastifyReply } from 'fastify';
import { noteLanguages } from '../../../src/fixNotes/words/wordsIn.ts';
import { escapeMarkup } from '../../../src/report/shapes.ts';
import { customerCatalogues } from './words/wordsIn.ts';

/** The same bytes for whoever asks: in all languages, as nothing is known of the reader. */
export function plainPage(reply: FastifyReply, status: number, what: 'gone' | 'slow'): FastifyReply {
  const said = noteLanguages
    .map((language, index) => {
      const tag = index === 0 ? 'h1' : 'p';
      return `<${tag} lang="${language}">${escapeMarkup(customerCatalogues[language][`plain.${what}`])}</${tag}>`;
    })
    .join('\n');
  const title = escapeMarkup(customerCatalogues.en[`plain.${what}`]);
  return reply
    .status(status)
    .header('content-type', 'text/html; charset=utf-8')
    .send(`<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="robots" content="noindex, nofollow">
<meta name="color-scheme" content="light dark">
<title>${title}</title>
<link rel="stylesheet" href="/assets/customer.css">
</head>
<body>
<main>
${said}
</main>
</body>
</html>
`);
}
