// Stories at random: systems of up to three zones on one or two outputs, and what happens to them on site. Inside a
// rapidcheck property only.
#pragma once

#include <memory>

#include "tests/oracle/story.h"

namespace tapwright::oracle {

// A system with a few loudspeakers, some of its figures unknown.
std::unique_ptr<Story> random_start();
// One thing that happens: something is added, set, removed or read. Returns: what, for the log; "" where the program
// refused it.
std::string random_step(Story& story);
// A start and up to `most` steps.
std::unique_ptr<Story> random_story(int most);

}  // namespace tapwright::oracle
