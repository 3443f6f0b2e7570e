import { type Html, html } from '../html.ts'

/** What stands under every page. Source: the safety lines of the trade, see the README. */
const lines = [
  'Only people qualified and certified for eddy-current testing may examine and interpret.',
  'The approved procedure takes precedence over anything shown here.',
  'Nothing here is an airworthiness or fitness-for-service decision. A flaw outside the shown capability can be missed.'
]

const head = (title: string): Html => html`<head><meta charset="utf-8">
<meta name="viewport" content="width=device-width,initial-scale=1"><title>${title} · Trueloop</title>
<link rel="icon" href="/favicon.svg" type="image/svg+xml"><link rel="stylesheet" href="/style.css"></head>`

const top = html`<header class="top"><a href="/"><span class="name">Trueloop</span></a>
<span class="where">the record, read only, on this computer</span></header>`

const foot = html`<footer>${lines.map((line) => html`<p>${line}</p>`)}</footer>`

export const shell = (title: string, body: Html): string =>
  `<!doctype html>\n${
    html`<html lang="en">
${head(title)}
<body>${top}<main>${body}</main>${foot}</body></html>`.html
  }\n`
