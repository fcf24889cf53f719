// What every page does. Each module stands alone; the worktable imports what it needs from them.
import "./keys.js";
import "./scan.js";
import "./forms.js";
import "./focus.js";
import "./session.js";
