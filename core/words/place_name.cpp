#include "core/words/place_name.h"

namespace tapwright {
Argument place_name(const Job& job, const Id& id) {
    if (const Interface* link = job.find<Interface>(id); link && link->kind)
        return Choice{ChoiceWords<InterfaceKind>::list, word(*link->kind), true};
    return entered(name_of(job, id));
}

Argument place_name(const Job& job, const std::optional<Id>& id) {
    if (!id) return Message("No place");
    return place_name(job, *id);
}

}  // namespace tapwright
