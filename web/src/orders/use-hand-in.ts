import type { Issue } from '@haspwright/engine'
import { type Said, ServerRefusal } from '@haspwright/server/client'
import { useNavigate } from '@tanstack/react-router'
import { useState } from 'react'
import { useSubmitOrder } from '../api/orders.ts'
import { MOST_BYTES, readOrderText } from './order-file.ts'

/** An order on its way in: its text, what is wrong with it, and what the server said. */
export function useHandIn() {
  const [text, setText] = useState<string>()
  const [fileName, setFileName] = useState<string>()
  const [unread, setUnread] = useState<readonly Issue[]>([])
  const submission = useSubmitOrder()
  const navigate = useNavigate()

  const submit = (given: string, newCodes?: Said) => {
    submission.reset()
    const file = readOrderText(given)
    setUnread(file.ok ? [] : file.issues)
    if (!file.ok) return
    submission.mutate(newCodes === undefined ? { order: file.content } : { order: file.content, newCodes }, {
      onSuccess: ({ order }) => void navigate({ to: '/orders/$orderId', params: { orderId: order.id } }),
    })
  }
  const take = async (file: File) => {
    setFileName(file.name)
    if (file.size > MOST_BYTES) {
      setText(undefined)
      const refused = readOrderText('x'.repeat(MOST_BYTES + 1))
      return setUnread(refused.ok ? [] : refused.issues)
    }
    const given = await file.text()
    setText(given)
    submit(given)
  }
  const { error } = submission
  const isStopped = submission.work.isStopped && submission.isError
  const issues = isStopped ? [] : error instanceof ServerRefusal && error.kind === 'issues' ? error.issues : unread
  return { text, setText, fileName, take, submit, submission, isStopped, issues }
}
