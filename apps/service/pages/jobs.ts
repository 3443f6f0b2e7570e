import type { JobBrief } from '@trueloop/host/chain'
import { type Html, html, none } from '../html.ts'
import { shell } from './shell.ts'

export const jobsPage = (jobs: readonly JobBrief[]): string =>
  shell(
    'Jobs',
    html`<h1>Jobs</h1>${
      jobs.length === 0
        ? html`<p>No jobs in this archive yet. <code>trueloop plan job.yaml</code> opens one.</p>`
        : html`<ul class="jobs">${jobs.map(jobItem)}</ul>`
    }`
  )

const jobItem = (one: JobBrief): Html =>
  html`<li><a href="/jobs/${encodeURIComponent(one.job)}"><span class="name">${one.job}</span>
${one.demonstration ? html`<span class="small">demonstration</span>` : none}<br><span>${one.component}</span><br>
<span class="quiet small">${countText(one.counts)}${one.waiting ? '' : '; nothing waits for a person'}</span></a></li>`

const countText = (counts: JobBrief['counts']): string =>
  counts
    .filter(({ count }) => count > 0)
    .map(({ state, count }) => `${count} ${state}`)
    .join('; ')
