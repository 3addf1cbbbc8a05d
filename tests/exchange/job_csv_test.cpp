#include "core/exchange/job_csv.h"

#include "tests/job/made.h"

using namespace tapwright;

TEST_CASE("one table for each kind that has records") {
    Job job;
    made::set(job, Kind::job, "job", "name", "House, \"new\"");
    made::add(job, Kind::visit, "v1", {{"purpose", "survey"}, {"notes", "=1+1"}});
    const std::vector<CsvFile> files = write_csv(job);
    REQUIRE(files.size() == 2);
    CHECK(files[0].name == "job.csv");
    CHECK(files[0].text.find("\"House, \"\"new\"\"\"") != std::string::npos);
    CHECK(files[1].name == "visits.csv");
    CHECK(files[1].text == "id,purpose,date,person,notes\r\nv1,survey,,,'=1+1\r\n");
}
