// What somebody has found, recorded in one step: a proposal until the person touches the key.
#pragma once

#include "core/faults/diagnosis.h"
#include "ui/screens/common/shared.h"

namespace tapwright::ui {

// What recording that cause as found would change, one batch: the tap, feed, position or connection as it is found; the
// snag of what is broken; the loudspeaker nobody recorded. Empty where there is nothing to record.
ChangeList record_of(const Job& job, const Words& words, const Diagnosis& diagnosis, const Cause& cause);

// Whether that cause is noted as an open snag already, in the same words.
bool is_noted(const Job& job, const Words& words, const Diagnosis& diagnosis, const Cause& cause);

}  // namespace tapwright::ui
