export { reamingBlocks, reamText } from './blocks.ts'
export { choiceComplaint, choiceOf, cutComplaint, type ReamChoice, reamChoiceSchema } from './choice.ts'
export { reamLoop } from './loop.ts'
export type { ReamLoop } from './stands.ts'
