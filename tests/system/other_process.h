// What needs a process of its own: a limit, a user or a lock must not stay with the tests that follow.
#pragma once

#include <functional>
#include <string>

namespace tapwright::test {

// What `speak` returns, run in a child of this process; "(died)" where it did not end by itself.
std::string said_by_child(const std::function<std::string()>& speak);

// The same without root's rights to read and write everything; as this user where that is not root.
std::string said_without_rights(const std::function<std::string()>& speak);

}  // namespace tapwright::test
