// What is still missing or wrong before a job can be handed over, as one list: what nobody recorded, and the findings,
// each with the page where it is put right.
#pragma once

#include <functional>
#include <memory>
#include <string>
#include <vector>

#include "core/session/session.h"
#include "ui/frame/context.h"
#include "ui/screens/common/shared.h"

namespace tapwright::ui {

struct Missing {
    std::string name;  // of its mark
    Message title, detail;
    Message why;  // the reasons, for who asks; may say nothing
    Tone tone = Tone::note;
    // Goes to the page where it is put right.
    std::function<void(Context&)> go;
};

// What stops a handover first, then what is to do, then what is worth knowing. Empty only where something is recorded
// and nothing is missing. The functions in it keep `shared`.
std::vector<Missing> missing_in(const Session& session, Shared& shared);

}  // namespace tapwright::ui
