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

// A job as a file has it, with what the oracle does not know: loudspeakers with a model of their transformer, L-pads,
// attenuators with an override that was tested or not. Returns: the file.
std::string with_rare_parts(const std::string& job);

}  // namespace tapwright::oracle
