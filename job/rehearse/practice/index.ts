export { MOST_HOLES, type Practice, practiceOf } from './practice.ts'
