// What the program says of one job: to machines, on both sheets and on its screens.
#pragma once

#include <string>

#include "core/exchange/job_json.h"
#include "core/sheet/sheet.h"
#include "core/units/show.h"
#include "tests/oracle/story.h"

namespace tapwright::oracle {

class Voices {
public:
    // Of a job as a file has it.
    explicit Voices(const std::string& json);

    Json check, solve, records;
    document::Document owner, technician;
    ChangeList changes;  // that make the job
};

// assets/demo.json as it stands.
std::string demo_json();

// Nothing where there is none.
const document::Table* table_in(const document::Document& sheet, const std::string& caption);
// The cell about `name` in the column `title`; "" where there is no such column, as nothing stood in it.
std::string cell_in(const document::Table& table, const std::string& name, const std::string& title);
std::string name_in(const Json& records, const char* kind, const Json& id, const char* field = "name");
bool is_unique(const Json& records, const char* kind, const char* field, const std::string& name);

// A figure as it is shown everywhere; "" for none.
template <class Q>
std::string shown(const Json& figure) {
    return figure.is_number() ? show(Q(figure.get<double>())) : std::string();
}

}  // namespace tapwright::oracle
