import type { JobSummary, PlaceRow } from '@trueloop/host/chain'
import { type Html, html, none } from '../html.ts'
import { markOf } from '../marks.ts'
import { shell } from './shell.ts'

export const jobPage = (job: JobSummary): string =>
  shell(
    job.job,
    html`<h1>${job.job}</h1><p>${job.component}</p>
${job.demonstration ? html`<p class="demonstration">Demonstration: invented data, never to be signed off.</p>` : none}
<p class="quiet">${job.confirmed}</p>
${unmarkedPractice(job)}${unknownSetUp(job)}<ul class="counts">${job.counts.filter(({ count }) => count > 0).map(countItem)}</ul>
<a class="action" href="/jobs/${encodeURIComponent(job.job)}/report">Report</a>
${leftTheHands(job)}${notExamined(job.places)}
${again(job)}${openPlaces(job.places)}
${counted(job)}<h2>All places</h2><ul class="places">${job.places.map(placeItem)}</ul>
${checks(job)}
<h2>Record</h2><p>${job.entries} entries. The chain ends in<br><code>${job.head}</code></p>`
  )

/** Practice that nobody has marked yet stands among the places, and nobody can tell which. */
const unmarkedPractice = ({ practice }: JobSummary): Html =>
  practice === undefined || practice.marked
    ? none
    : html`<p class="failed">Practice: ${practice.count} of these places are practice and not marked yet. Nothing here may be acted on before they are.</p>`

const unknownSetUp = ({ setUpUnknown }: JobSummary): Html =>
  setUpUnknown.length === 0
    ? none
    : html`<p class="failed">Set-up not known: ${setUpUnknown.join(', ')}; sizes and proposals are withheld.</p>`

const countItem = ({ state, count }: JobSummary['counts'][number]): Html => html`<li><b>${count}</b>${state}</li>`

/** What was not examined comes first. */
function notExamined(places: readonly PlaceRow[]): Html {
  const missing = places.filter(({ why }) => why.length > 0)
  if (missing.length === 0) return none
  return html`<h2>Not examined, or voided</h2><ul class="missing">${missing.map(
    ({ name, state, why }) => html`<li><b>${name}</b>, ${state}: ${why.join('; ')}</li>`
  )}</ul>`
}

/** Places that had been closed or delivered on scans that are void since: whoever has the component must be told. */
function leftTheHands({ nonconformances: all }: JobSummary): Html {
  if (all.length === 0) return none
  return html`<h2>Nonconformances</h2><ul class="missing">${all.map(
    ({ place, had, at, why, examinedAgain }) =>
      html`<li><b>${place}</b> had ${had} (${at}), and is voided since: ${why.join('; ')}; <span class="${examinedAgain ? 'quiet' : 'failed'}">${examinedAgain ? 'examined again' : 'not examined again'}</span></li>`
  )}</ul>`
}

/** What a set-up that did not hold leaves to be scanned again. */
function again({ redo }: JobSummary): Html {
  if (redo.length === 0) return none
  return html`<h2>To be done again</h2><ul class="missing">${redo.map(
    ({ place, files, why }) => html`<li><b>${place}</b> (${files.join(', ')}): ${why.join('; ')}</li>`
  )}</ul>`
}

function counted({ counted: { listed, scanned, without } }: JobSummary): Html {
  if (without.length === 0) return none
  return html`<p class="quiet">Scanned: ${scanned} of ${listed} on the list; no scan of ${[...without.slice(0, 12), ...(without.length > 12 ? ['…'] : [])].join(', ')}.</p>`
}

/** What waits for a person or for another scan: none of these places can be closed. */
function openPlaces(places: readonly PlaceRow[]): Html {
  const open = places.filter((place) => place.open.length > 0)
  if (open.length === 0) return none
  return html`<h2>Open</h2><ul class="missing">${open.map(
    (place) => html`<li><b>${place.name}</b>: ${place.open.join('; ')}</li>`
  )}</ul>`
}

const placeItem = (place: PlaceRow): Html =>
  html`<li>${markOf(place)}<div><span class="name">${place.name}</span><span class="state">${place.state}</span>
${facts(place).map((fact) => html`<span class="fact">${fact}</span>`)}</div></li>`

function facts({ zones, zonesExamined, relevant, undecided, aboveAlarm, provisional }: PlaceRow): readonly string[] {
  return [
    ...(zones > 0 ? [`zones ${zonesExamined} of ${zones}`] : []),
    ...(relevant > 0 ? [`${relevant} relevant`] : []),
    ...(undecided > 0 ? [`${undecided} undecided`] : []),
    ...(aboveAlarm > 0 ? [`${aboveAlarm} over alarm level`] : []),
    ...(provisional ? ['until a good recheck'] : [])
  ]
}

function checks({ rechecks, unjudged }: JobSummary): Html {
  if (rechecks.length + unjudged.length === 0) return none
  const open = unjudged.map((file) => html`<li>${file}: nobody has judged it</li>`)
  return html`<h2>Rechecks</h2><ul>${[...rechecks.map(recheckItem), ...open]}</ul>`
}

function recheckItem({ file, passed, voids }: JobSummary['rechecks'][number]): Html {
  if (passed) return html`<li>${file}: good</li>`
  const what = voids.length === 0 ? '' : `; it voids ${voids.join(', ')}`
  return html`<li>${file}: <span class="failed">failed</span>${what}</li>`
}
