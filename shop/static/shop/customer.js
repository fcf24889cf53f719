// The quote page: a customer is found by name while one types, also after the page was answered anew.
import { enhance } from "./combo.js";

enhance();
document.addEventListener("htmx:afterSettle", () => enhance());
