// Where the keyboard's focus lies when a page comes to the front: on what had it there before, else on the page's first
// thing, so that Tab goes on from there.
#pragma once

namespace tapwright::ui {

// Right before what is on the page is drawn, inside its window. `left_on`: what page_focus() gave when it was last in
// front; 0: nothing. Nothing changes while a sheet is open over the page or a field on it takes the keys.
void focus_page(unsigned left_on);

// Right behind what is on the page. Returns: which of it has the focus; 0 where none has.
unsigned page_focus();

}  // namespace tapwright::ui
