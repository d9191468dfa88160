import { Formula } from '../sheet/Formula.tsx'
import { ChoiceEntry } from './ChoiceEntry.tsx'
import type { ChoiceModel, NumberModel, SwitchModel, TextModel } from './field-model.ts'
import { elementId, type FieldPath, useForm } from './form-context.ts'
import { IssueLines } from './IssueLines.tsx'
import { NumberEntry } from './NumberEntry.tsx'
import { TextEntry } from './TextEntry.tsx'

export type LeafModel = NumberModel | TextModel | ChoiceModel | SwitchModel

/** One field with its label, unit, range and what is wrong with it. `title` stands in where the label can be shorter. */
export function LeafField({
  model,
  draft,
  path,
  title = model.title,
  brief = false,
}: {
  model: LeafModel
  draft: string
  path: FieldPath
  title?: string
  /** Stands with others on one line: only its range is said, not its help. */
  brief?: boolean
}) {
  const form = useForm()
  const id = elementId(form, path)
  const issues = form.issuesAt(path)
  const hint = hintOf(model, brief)
  return (
    <div className="field" data-bad={issues.length > 0 || undefined}>
      <label htmlFor={id}>
        {title}
        {model.kind === 'number' && model.symbol !== undefined ? (
          <span aria-hidden="true">
            {' '}
            <Formula tex={model.symbol} inline />
          </span>
        ) : null}
        {model.optional ? <span className="optional"> optional</span> : null}
      </label>
      <Entry model={model} draft={draft} path={path} describedBy={`${id}-hint ${id}-issues`} />
      <p id={`${id}-hint`} className="hint">
        {hint}
      </p>
      <IssueLines id={`${id}-issues`} issues={issues} />
    </div>
  )
}

/** The entry alone: in a table the head is its label. */
export function Entry(props: {
  model: LeafModel
  draft: string
  path: FieldPath
  label?: string
  describedBy?: string
}) {
  switch (props.model.kind) {
    case 'number':
      return <NumberEntry {...props} model={props.model} />
    case 'text':
      return <TextEntry {...props} model={props.model} />
    default:
      return <ChoiceEntry {...props} model={props.model} />
  }
}

function hintOf(model: LeafModel, brief: boolean): string {
  const range =
    model.kind === 'number' && model.range !== ''
      ? `${model.range}${model.unit === '' ? '' : `\u202f${model.unit}`}`
      : ''
  const none = model.kind === 'number' && model.nullable ? 'empty for no limit' : ''
  return [range, none, brief ? '' : (model.help ?? '')].filter((part) => part !== '').join(' · ')
}
