/** The app as parts of the page know it, with the office's server in the place of this device's store. */

import type { AppContext, Place } from "../page/app_context.svelte.ts";
import type { Saying } from "../page/gauging.svelte.ts";
import type { Store } from "../journal/store_contract.ts";

/** Return a context in which what is said goes to another store, and all else is as before. */
export function withStore(app: AppContext, store: Store): AppContext {
  return {
    store,
    get engine() {
      return app.engine;
    },
    get offline() {
      return app.offline;
    },
    get clock() {
      return app.clock;
    },
    get office() {
      return app.office;
    },
    get sync() {
      return app.sync;
    },
    get storage() {
      return app.storage;
    },
    get settings() {
      return app.settings;
    },
    get settingsChosen() {
      return app.settingsChosen;
    },
    get settingsTrouble() {
      return app.settingsTrouble;
    },
    get place() {
      return app.place;
    },
    get gauging() {
      return app.gauging;
    },
    get unsaved() {
      return app.unsaved;
    },
    get lastVisit() {
      return app.lastVisit;
    },
    get lastVisitTrouble() {
      return app.lastVisitTrouble;
    },
    go: (place: Place) => app.go(place),
    goInstead: (place: Place) => app.goInstead(place),
    begin: (sayings: readonly Saying[]) => app.begin(sayings),
    reread: () => app.reread(),
    keepSettings: (changed) => app.keepSettings(changed),
  };
}
