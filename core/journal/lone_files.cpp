#include "core/journal/lone_files.h"

#include <functional>
#include <set>

namespace tapwright {
namespace {

std::set<std::string, std::less<>>& names() {
    static std::set<std::string, std::less<>> lone;
    return lone;
}

}  // namespace

void add_lone_vfs(const std::string& name) {
    names().insert(name);
}

bool is_lone_vfs(std::string_view name) {
    return names().contains(name);
}

}  // namespace tapwright
