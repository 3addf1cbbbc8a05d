// Who makes the changes of these tests.
#pragma once

#include "core/session/session.h"

namespace tapwright::test {

inline const Author ana{"Ana", ""};
inline const Author ben{"Ben", ""};

}  // namespace tapwright::test
