import { Command } from 'commander';
import { acceptAliases, keepApart, takeBackSaid, type AliasOffer } from '../../etl/unit-aliases.ts';
import { aliasRows, distinctionRows, unitAliasesView } from '../views/unit-aliases-view.ts';
import { answer, command, withStore, type AddCommand, type CommandContext, type CommonOptions } from './command.ts';

/** `alias`: which spellings are one unit. What a person says stays through load, unload and assess. */
export const addAlias: AddCommand = (program, context) => {
  const alias = new Command('alias').description('say which spellings of a unit number are one unit');
  alias.addCommand(aliasList(context), { isDefault: true });
  alias.addCommand(aliasAdd(context));
  alias.addCommand(aliasApart(context));
  alias.addCommand(aliasRemove(context));
  program.addCommand(alias);
};

/** The command that accepts an offer, to be copied as it stands. */
export function acceptingCommand({ unit, spellings }: AliasOffer): string {
  const words = [unit, ...spellings];
  const marker = words.some((word) => word.startsWith('-')) ? ['--'] : [];
  return ['crankledger alias add', ...marker, ...words.map(quoted)].join(' ');
}

/** For a POSIX shell. */
function quoted(word: string): string {
  return /^[\w.-]+$/.test(word) ? word : `'${word.replaceAll("'", String.raw`'\''`)}'`;
}

function aliasList(context: CommandContext): Command {
  const list = command('list', 'list the aliases that stand, and the spellings that may be one unit', [
    'crankledger alias list',
  ]);
  return list.action(async (options: CommonOptions) => {
    const view = await withStore(options, context, unitAliasesView);
    const standing = view.aliases.map(
      ({ spelling, unit, goesBy, createdAt }) => `${spelling === goesBy ? unit : spelling}\t${goesBy}\t${createdAt}\n`,
    );
    const apart = view.apart.map(({ unit, other, createdAt }) => `${unit}\tnot ${other}\t${createdAt}\n`);
    await answer(options, context, { value: view, words: [...standing, ...apart].join('') });
    if (view.aliases.length === 0) context.console.note('no spelling has been said to be another unit');
    for (const offer of view.offers)
      context.console.note(
        `may be one unit: ${[offer.unit, ...offer.spellings].join(', ')}: ${acceptingCommand(offer)}`,
      );
  });
}

function aliasAdd(context: CommandContext): Command {
  const add = command('add', 'count the rows of other spellings as those of the unit', [
    "crankledger alias add T-014 T014 't 014'",
  ]);
  add.argument('<unit>', 'the unit; it goes by the spelling of the register, whichever that is');
  add.argument('<spelling...>', 'its other spellings, as files write them');
  return add.action(async (unit: string, spellings: string[], options: CommonOptions) => {
    const atUs = context.now() * 1000;
    const aliases = await withStore(options, context, async (store) =>
      aliasRows(store, await acceptAliases(store, { unit, spellings, atUs })),
    );
    const words = aliases.map(
      ({ spelling, unit: named, goesBy }) => `${spelling} and ${named} are one unit: ${goesBy}\n`,
    );
    await answer(options, context, { value: { aliases }, words: words.join('') });
    context.console.note('run assess again: the ranking does not know it yet');
  });
}

function aliasApart(context: CommandContext): Command {
  const apart = command('apart', 'say that spellings are two units: they are not offered as one again', [
    "crankledger alias apart T-014 't 014'",
  ]);
  apart.argument('<unit>', 'a unit');
  apart.argument('<spelling...>', 'spellings that look like it, each a unit of its own');
  return apart.action(async (unit: string, spellings: string[], options: CommonOptions) => {
    const atUs = context.now() * 1000;
    const said = await withStore(options, context, async (store) => keepApart(store, { unit, spellings, atUs }));
    const words = said.map((pair) => `${pair.unit} and ${pair.other} are two units\n`);
    await answer(options, context, { value: { apart: distinctionRows(said) }, words: words.join('') });
  });
}

function aliasRemove(context: CommandContext): Command {
  const remove = command('remove', 'take back what was said of a spelling', ['crankledger alias remove T014']);
  remove.argument('<spelling>', 'of which nothing is said from then on');
  return remove.action(async (spelling: string, options: CommonOptions) => {
    const said = await withStore(options, context, async (store) => {
      const { aliases, apart } = await takeBackSaid(store, spelling, context.now() * 1000);
      return { aliases: await aliasRows(store, aliases), apart: distinctionRows(apart) };
    });
    const words = [
      ...said.aliases.map(({ spelling: one, unit }) => `${one} and ${unit} are two units again\n`),
      ...said.apart.map(({ unit, other }) => `${unit} and ${other} may be one unit again\n`),
    ];
    await answer(options, context, { value: said, words: words.join('') });
    if (said.aliases.length > 0) context.console.note('run assess again: the ranking still rests on it');
  });
}
