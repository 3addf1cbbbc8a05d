// What the program does when a library says that there is no memory left: it ends the work in hand, as `new` does.
#pragma once

namespace tapwright {

// Throws std::bad_alloc; aborts where the build knows no exceptions, as `new` does there too. Never returns.
[[noreturn]] void out_of_memory();

}  // namespace tapwright
