/** Entry `worker` of the bundles: a thread that examines recordings for a crew. */
import { parentPort } from 'node:worker_threads'
import { serve } from './serve.ts'
import { examineTask } from './task.ts'

serve(parentPort, examineTask)
