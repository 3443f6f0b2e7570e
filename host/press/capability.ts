import type { Result } from '@trueloop/ground/refusal'
import { type HitMissResult, hitMissBlocks } from '@trueloop/job/prove'
import { canonical, type Moment } from '@trueloop/job/record'
import { html } from './html.ts'
import type { Page } from './page.ts'
import { pdf } from './typst/index.ts'

/** A study of capability as one HTML document. */
export const capabilityHtml = (result: HitMissResult, printed: Moment): string => html(pageOf(result, printed))

/** The same as PDF/A, the result inside it: with its rows it can be worked out again. Refuses `press/no-typesetter`. */
export const capabilityPdf = (result: HitMissResult, printed: Moment): Promise<Result<Uint8Array>> =>
  pdf({
    ...pageOf(result, printed),
    foot: `Capability · ${result.study.name} · data ${result.data.sha256.slice(0, 12)} · method ${result.method} · ${result.program} · unsigned`,
    time: printed.time,
    attachments: [
      {
        ...{ name: 'result.json', mime: 'application/json', relationship: 'source' },
        description: 'The result as canonical JSON: with the rows that its hash names it can be worked out again',
        bytes: Buffer.from(canonical(JSON.parse(JSON.stringify(result))), 'utf8')
      }
    ]
  })

const pageOf = (result: HitMissResult, printed: Moment): Page => ({
  title: `Capability: ${result.study.name}`,
  blocks: hitMissBlocks(result),
  ...(result.study.flaws === 'real' ? {} : { stamp: 'No real flaws: proves no technique' }),
  footer: `Unsigned. Data ${result.data.sha256}. ${result.program}. ${printed.time}, ${printed.known}.`
})
