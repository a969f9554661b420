import { importsView } from '../views/imports-view.ts';
import { answer, command, withStore, type AddCommand, type CommonOptions } from './command.ts';

/** `imports`: what was loaded. */
export const addImports: AddCommand = (program, context) => {
  const imports = command('imports', 'list what was loaded', ['crankledger imports', 'crankledger imports --json']);
  imports.action(async (options: CommonOptions) => {
    const { view, path } = await withStore(options, context, async (store) => ({
      view: await importsView(store),
      path: store.path,
    }));
    const lines = view.imports.map(
      ({ importId, loadedAt, kind, taken, setAside, file }) =>
        `${importId}\t${loadedAt ?? ''}\t${kind}\t${taken} taken\t${setAside} set aside\t${file}\n`,
    );
    await answer(options, context, { value: view, words: lines.join('') });
    if (view.imports.length === 0)
      context.console.note(`nothing has been loaded into ${path}: crankledger load FOLDER`);
  });
  program.addCommand(imports);
};
