import type { Result } from '@trueloop/ground/refusal'
import { refuse } from '../codes.ts'

export const notAHole = (application: string): Result<never> =>
  refuse('rehearse/not-a-hole', {
    found: `a technique for a ${application}`,
    needed: 'a technique for fastener holes: no other has a model of its flaws yet',
    remedy: 'practice on the demonstration: rehearse without --for'
  })

export const noRoom = (): Result<never> =>
  refuse('rehearse/no-room', {
    found: 'no hole with a crack: none was drawn, or no layer is as thick as what was drawn is long',
    needed: 'a hole with a crack at least',
    remedy: 'take another seed, more holes, or a flaw sought that fits into the layers'
  })

export const mixedBefore = (count: number): Result<never> =>
  refuse('rehearse/mixed-before', {
    found: `a job sheet with ${count} practice recordings in it already`,
    needed: 'a job sheet without practice: answers belong to one mixing',
    remedy: 'take the sheet as it was before practice was mixed in',
    where: { path: 'practice' }
  })

export const otherCount = (count: number, most: number): Result<never> =>
  refuse('rehearse/other-count', {
    found: Number.isNaN(count) ? 'no number' : `${count} practice recordings`,
    needed: `a whole number from 1 to ${most}`,
    remedy: 'a few among many keep people attentive: say --count 2, for instance'
  })

export const noReference = (): Result<never> =>
  refuse('rehearse/no-reference', {
    found: 'no recording of the reference standard',
    needed: 'one by the first set-up of the technique: practice is brought to the gain and rotation that it shows',
    remedy: 'mix practice in after the reference scan and the holes are recorded',
    where: { path: 'recordings' }
  })

export const otherFeed = (feed: string): Result<never> =>
  refuse('rehearse/other-feed', {
    found: `a technique whose depth comes from: ${feed}`,
    needed: 'entry and exit edges, or constant feed: practice is made with an even feed and without an encoder',
    remedy: 'mix practice into jobs of a technique with an even feed',
    where: { path: 'technique.axial_position' }
  })

export const noPlace = (): Result<never> =>
  refuse('rehearse/no-place', {
    found: 'no recording of a hole that another could follow',
    needed: 'one under the first reference scan, with its columns and equipment, before a recheck where there is any',
    remedy: 'mix practice in after the holes are recorded',
    where: { path: 'recordings' }
  })
