// Who signed, and for which state of the record.
#pragma once

#include <memory>
#include <vector>

#include "core/session/session.h"
#include "ui/screens/common/shared.h"
#include "ui/widgets/rows.h"

namespace tapwright::ui {

struct SignedRow {
    Id id;
    Row row;  // name, in what capacity and when, and whether the record has changed since
};

// The latest first.
std::vector<SignedRow> signed_rows(const Session& session, const Shared& shared);

// One of them: the signature, when, and for which state.
std::unique_ptr<Screen> signed_screen(Shared& shared, const Id& signoff);

}  // namespace tapwright::ui
