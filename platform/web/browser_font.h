// Characters that the program's typefaces lack, drawn by the browser with whatever fonts the device has: 倉庫 shows
// without a font of ours.
//
// Each character is drawn by itself: scripts that join letters or run from right to left show the right letters, not
// joined and in the order they were typed.
#pragma once

namespace tapwright::web {

// Behind all that each typeface of the atlas has of its own. Requires: a current Dear ImGui context whose atlas holds
// the regular typeface and then the semibold one.
void add_browser_fonts();

}  // namespace tapwright::web
