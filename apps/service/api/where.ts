import type { Refusal } from '@trueloop/ground/refusal'
import type { FastifyReply } from 'fastify'
import { sendRefusals } from './refused.ts'
import { statusOf } from './status.ts'

export const sendNo = (reply: FastifyReply, refusal: Refusal): FastifyReply =>
  sendRefusals(reply, statusOf(refusal), [whereLooked(refusal)])

/** Where the person looks: the part of what the page sent that a refusal is about. */
const partOf: Readonly<Record<string, string>> = {
  ...{ 'signing/not-registered': 'name', 'signing/person-expired': 'name', 'keys/no-key': 'name' },
  ...{ 'keys/wrong-passphrase': 'passphrase', 'keys/damaged': 'name' },
  ...{ 'record/no-reason': 'reason', 'record/undecided': 'classes', 'record/size-not-permitted': 'size_mm' },
  ...{ 'record/no-ream-chosen': 'aimed_mm', 'record/same-person': 'agrees', 'record/place-open': 'places' },
  ...{ 'record/other-person': 'entry', 'record/rests-on-it': 'entry', 'record/nothing-to-correct': 'entry' },
  ...{ 'decide/no-such-place': 'place', 'decide/no-such-indication': 'classes', 'decide/no-ream-size': 'size_mm' },
  ...{
    'evaluate/ream-no-rules': 'disposition',
    'decide/procedure-not-in-force': 'disposition',
    'decide/nothing-decided': 'place'
  }
}

function whereLooked(refusal: Refusal): Refusal {
  const path = partOf[refusal.code]
  return refusal.where !== undefined || path === undefined ? refusal : { ...refusal, where: { path } }
}
