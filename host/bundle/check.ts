import { type ChainEnd, type Verification, verify } from '@trueloop/job/record'
import { reexamine } from '../chain/index.ts'
import { sha256, signatureHolds } from '../hash/index.ts'
import type { Bundle } from './bundle.ts'
import { originalName } from './names.ts'

export interface CheckingBundle {
  /** the end of the chain as a printed report has it */
  readonly printed?: ChainEnd
  /** examine every recording again */
  readonly again?: boolean
}

/** The three verdicts on an open bundle, as on a job of an archive; nothing is taken in. */
export const checkBundle = (bundle: Bundle, { printed, again }: CheckingBundle): Promise<Verification> =>
  verify({
    rows: bundle.rows,
    hash: sha256,
    holds: signatureHolds,
    kept: { count: bundle.count, head: bundle.head },
    ...(printed === undefined ? {} : { printed }),
    original: async (name) => bundle.measured.get(originalName(name))?.sha256,
    document: async (hash) => {
      const document = await bundle.document(hash)
      return 'text' in document ? document.text : undefined
    },
    ...(again === true ? { reexamine: (examined) => reexamine(bundle, bundle.rows, examined) } : {})
  })
