import { type Json, list, parameter, ref, refused, result } from './words.ts'

const jobId = parameter('id', 'Number of the job')

export const jobSchema: Json = {
  type: 'object',
  description: 'Long work that somebody asked for',
  properties: {
    id: { type: 'string' },
    kind: { enum: ['hand-in', 'plan', 'papers', 'solids', 'calculation'] },
    subject: { type: 'string', description: 'Number of the order or design, or the calculation' },
    askedBy: { type: 'string' },
    askedAt: { type: 'string', format: 'date-time' },
    state: { enum: ['waiting', 'working', 'done', 'cancelled', 'failed'] },
    share: { type: 'number', minimum: 0, maximum: 1, description: 'How much is done' },
    doing: { type: 'string', description: 'What is being done, in words' },
    cancelAsked: { type: 'boolean' },
  },
  required: ['id', 'kind', 'subject', 'askedBy', 'askedAt', 'state', 'share', 'doing', 'cancelAsked'],
}

/** Long work: asked for with `Prefer: respond-async` (RFC 7240), followed, stopped, and its answer fetched. */
export const jobPaths: Json = {
  '/api/jobs': {
    get: {
      summary: 'The newest long work',
      responses: { 200: result('The list', list('jobs', ref('Job'))), ...refused() },
    },
  },
  '/api/jobs/{id}': {
    parameters: [jobId],
    get: { summary: 'How far a job is', responses: { 200: result('The job', ref('Job')), ...refused(404) } },
    delete: {
      summary: 'Ask that a job stop; one that waits is cancelled at once',
      responses: { 200: result('The job as it stands', ref('Job')), ...refused(403, 404) },
    },
  },
  '/api/jobs/{id}/progress': {
    parameters: [jobId],
    get: {
      summary: 'The job each time it has changed, live, until it is over',
      responses: {
        200: {
          description: 'Server-sent events named job, each with the job as JSON',
          content: { 'text/event-stream': { schema: { type: 'string' } } },
        },
        ...refused(404),
      },
    },
  },
  '/api/jobs/{id}/answer': {
    parameters: [jobId],
    get: {
      summary: 'What a job came to, just as the request for it would have been answered',
      responses: {
        200: result('As the request that asked for it says'),
        201: result('As the request that asked for it says'),
        ...refused(404, 409, 422),
      },
    },
  },
}
