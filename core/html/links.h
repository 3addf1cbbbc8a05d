// Telephone numbers and mail addresses in what people typed, as links: on a phone a touch calls.
#pragma once

#include <string>
#include <string_view>

namespace tapwright::html {

// kept(), with tel: and mailto: around what looks like a number to call (six digits or more, no day) or an address.
// Nothing but digits, a leading plus, and the letters of a plain address comes into a link.
std::string linked(std::string_view text);

}  // namespace tapwright::html
