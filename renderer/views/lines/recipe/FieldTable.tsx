/** What each piece of a line is: channel, unit, what is possible. The underline is the same as in the lines. */
import { useId, useState } from 'react';
import { channelIds, type ChannelId } from '../../../../shared/measurement/channel.ts';
import type { LineRecipe } from '../../../../shared/measurement/recipe.ts';
import { unitsFor, type SentUnit } from '../../../../shared/measurement/sent-unit.ts';
import { quantities, type Quantity } from '../../../../shared/units/quantities.ts';
import { recipeWords as words } from '../../../../shared/words/lines/lines.ts';
import { parsePossible, possibleText, roleAt, withField, withPossible, withRole, type Role } from './recipe-edit.ts';
import type { Place } from './recipe-places.ts';
import './FieldTable.css';
import '../lines.css';

const roles: readonly { value: Role; text: string }[] = [
  { value: 'none', text: words.roles.none },
  ...channelIds.map((id) => ({ value: id, text: quantities[id].label })),
  { value: 'time', text: words.roles.time },
  { value: 'status', text: words.roles.status },
];

type Props = { recipe: LineRecipe; places: readonly Place[]; change: (recipe: LineRecipe) => void; disabled: boolean };

export function FieldTable({ recipe, places, change, disabled }: Props) {
  return (
    <table className="place-table">
      <caption className="hidden-text">{words.table.caption}</caption>
      <thead>
        <tr>
          <th scope="col">{words.table.place}</th>
          <th scope="col">{words.table.example}</th>
          <th scope="col">{words.table.channel}</th>
          <th scope="col">{words.table.unit}</th>
          <th scope="col">{words.table.possible}</th>
        </tr>
      </thead>
      <tbody>
        {places.map((place) => (
          <PlaceRow key={place.key} recipe={recipe} place={place} change={change} disabled={disabled} />
        ))}
      </tbody>
    </table>
  );
}

function PlaceRow({ recipe, place, change, disabled }: Omit<Props, 'places'> & { place: Place }) {
  const role = roleAt(recipe, place.at);
  const field = recipe.fields.find(({ channel }) => channel === role);
  const absent = field === undefined ? [] : recipe.sentinels.filter(({ channel }) => channel === field.channel);
  return (
    <tr className={role === 'none' ? 'unused' : ''}>
      <th scope="row">
        <span className={`place-key span span-${role}`}>{place.label}</span>
      </th>
      <td className="example">{place.example}</td>
      <td>
        <select
          className="cell"
          aria-label={words.channelOf(place.label)}
          value={role}
          disabled={disabled}
          onChange={(event) => change(withRole(recipe, place.at, event.target.value as Role))}
        >
          {roles.map(({ value, text }) => (
            <option key={value} value={value}>
              {text}
            </option>
          ))}
        </select>
      </td>
      {field === undefined ? (
        <td colSpan={2} className="second small">
          {role === 'time' ? words.kept : ''}
        </td>
      ) : (
        <>
          <td>
            <select
              className="cell"
              aria-label={words.unitOf(place.label)}
              value={field.unit}
              disabled={disabled}
              onChange={(event) => change(withField(recipe, field.channel, { unit: event.target.value as SentUnit }))}
            >
              {unitsFor(field.channel).map((unit) => (
                <option key={unit} value={unit}>
                  {words.units[unit]}
                </option>
              ))}
            </select>
          </td>
          <td>
            <PossibleField
              key={field.channel}
              label={words.possibleOf(place.label)}
              text={possibleText(field)}
              usual={usualText(field.channel)}
              disabled={disabled}
              take={(range) => change(withPossible(recipe, field.channel, range))}
            />
            {absent.map(({ value, means }) => (
              <div key={value} className="second small">
                {value} = {words.absent[means]}
              </div>
            ))}
          </td>
        </>
      )}
    </tr>
  );
}

/** Keeps what is typed; takes it when it is understood. */
/** outside of it a value is suspect, whatever the recipe says */
const usualText = (channel: ChannelId): string => {
  const quantity: Quantity = quantities[channel];
  return quantity.possible === undefined ? '' : possibleText({ valid: [...quantity.possible] });
};

function PossibleField({
  label,
  text,
  usual,
  disabled,
  take,
}: {
  label: string;
  text: string;
  usual: string;
  disabled: boolean;
  take: (range: [number, number] | 'none') => void;
}) {
  const id = useId();
  const [typed, setTyped] = useState<string>();
  const isWrong = typed !== undefined && parsePossible(typed) === undefined;
  return (
    <>
      <input
        className={`cell${isWrong ? ' wrong' : ''}`}
        aria-label={label}
        aria-invalid={isWrong}
        aria-describedby={isWrong ? id : undefined}
        value={typed ?? text}
        placeholder={usual}
        disabled={disabled}
        autoComplete="off"
        onChange={(event) => {
          setTyped(event.target.value);
          const range = parsePossible(event.target.value);
          if (range !== undefined) take(range);
        }}
        onBlur={() => {
          if (!isWrong) setTyped(undefined);
        }}
      />
      {isWrong && (
        <div id={id} className="field-error" role="alert">
          {words.possibleWrong}
        </div>
      )}
    </>
  );
}
