import { placeText, type Refusal } from '@trueloop/ground/refusal'
import { html } from '../html.ts'
import { shell } from './shell.ts'

export const notFoundPage = (): string =>
  shell('Not found', html`<h1>Not found</h1><p>No page or job has that name.</p><p>${allJobs}</p>`)

const allJobs = html`<a class="plain" href="/">All jobs</a>`

export const refusalPage = ({ found, needed, remedy, code, where }: Refusal): string => {
  const place = where === undefined ? code : `${code}, ${placeText(where)}`
  return shell(
    'Refusal',
    html`<h1>Refusal</h1><p>The record cannot be shown now.</p><dl class="refusal"><dt>Found</dt><dd>${found}</dd>
<dt>Needed</dt><dd>${needed}</dd><dt>What to do</dt><dd>${remedy}</dd><dt>Where</dt><dd>${place}</dd></dl>`
  )
}
