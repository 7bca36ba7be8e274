import type { ValueProblem } from '../../../shared/shop.ts';
import { fieldAt } from '../words/fieldWords.ts';
import { useWords } from '../words/useWords.ts';
import { ChoiceField } from './ChoiceField.tsx';
import { Fold } from './Fold.tsx';
import { FixedListField, ListField } from './ListField.tsx';
import { PlainField } from './PlainField.tsx';
import { isGiven, type Schema } from './schema.ts';

export interface FieldProps {
  readonly schema: Schema;
  /** As the server names it: "screens[2].mesh.threadUm". */
  readonly path: string;
  readonly value: unknown;
  readonly problems: readonly ValueProblem[];
  onValue(value: unknown): void;
}

/** Groups that are open also while nothing is given in them. */
const openAtFirst: readonly string[] = ['garment', 'print', 'screens', 'meshes', 'presses'];

/** One value of a ticket or a shop file, as its schema describes it. */
export function SchemaField(props: FieldProps) {
  const { language } = useWords();
  const { schema, path, value, problems } = props;
  const isGroup = schema.anyOf !== undefined || schema.type === 'object' || schema.type === 'array';
  if (!isGroup) return <PlainField {...props} />;
  return (
    <Fold
      {...fieldAt(language, path)}
      value={value}
      isOpen={isGiven(value) || openAtFirst.includes(path)}
      hasProblem={problems.some((problem) => problem.path.startsWith(path))}
    >
      <GroupField {...props} />
    </Fold>
  );
}

/** What is in a group, without its fold. */
export function GroupField(props: FieldProps) {
  const { schema } = props;
  if (schema.anyOf !== undefined) return <ChoiceField {...props} />;
  if (schema.prefixItems !== undefined) return <FixedListField {...props} />;
  if (schema.type === 'array') return <ListField {...props} />;
  if (schema.type === 'object') return <ObjectField {...props} />;
  return <PlainField {...props} />;
}

export function ObjectField({ schema, path, value, problems, onValue }: FieldProps) {
  const values = (value ?? {}) as Readonly<Record<string, unknown>>;
  return (
    <div class="fields">
      {Object.entries(schema.properties ?? {}).map(([name, part]) => (
        <SchemaField
          key={name}
          schema={part}
          path={path === '' ? name : `${path}.${name}`}
          value={values[name]}
          problems={problems}
          onValue={(next) => onValue({ ...values, [name]: next })}
        />
      ))}
    </div>
  );
}
