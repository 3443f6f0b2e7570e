import type { Refusal } from '@trueloop/ground/refusal'

/**
 * The status of a refusal. source: rfc9110, 15 (401 nobody known, 403 known and may not, 409 the state has moved on,
 * 422 understood and can not be done, 503 for now)
 */
export function statusOf({ code }: Refusal): number {
  const [room = ''] = code.split('/')
  return byCode[code] ?? byRoom[room] ?? 422
}

const byRoom: Readonly<Record<string, number>> = { archive: 503, keys: 403, signing: 403 }

const byCode: Readonly<Record<string, number>> = {
  ...{ 'service/not-signed-in': 401, 'service/register-changed': 401 },
  ...{
    'service/class-first': 403,
    'record/no-right': 403,
    'record/person-expired': 403,
    'record/other-person': 403,
    'record/same-person': 403
  },
  ...{ 'service/too-large': 413, 'service/no-such-place': 404, 'service/no-such-file': 404 },
  ...{ 'service/no-such-entry': 404, 'decide/no-such-job': 404, 'decide/no-such-place': 404 },
  ...{ 'decide/no-such-indication': 404, 'service/no-such-job': 404 },
  ...{ 'service/changed-meanwhile': 409, 'service/id-used': 409, 'record/sequence-taken': 409, 'record/id-taken': 409 }
}
