// Job files, and what lies beside them, as somebody who knows the format and means harm would make them: every hash is
// right, since whoever can write a file can hash it anew.
#pragma once

#include <string>
#include <vector>

#include "core/journal/log.h"

namespace tapwright::test {

// Makes a job file of these batches, in this order; n, prev and hash are filled in. Nothing else is looked at: kinds,
// fields and values may be anything.
void forge_job(const std::string& path, const std::vector<Batch>& batches);

// A rollback journal with no page in it that names `victim` as its super-journal, for a file of `job_bytes` bytes.
std::string rollback_file_naming(const std::string& victim, std::size_t job_bytes);

// Lays `made` and `made`-journal as a program leaves them that is killed in the middle of a commit on a copy of `job`:
// pages of the change are in the file already.
void cut_off_commit(const std::string& job, const std::string& made);

// Lays `made` and `made`-wal: a copy of `job` whose next change, of the job's notes, is in the -wal alone, while the
// header says that there is none.
void hide_in_wal(const std::string& job, const std::string& made);

// Exchanges in the index of photos alone which photo each of two hashes leads to; the table stays right.
void swap_in_photo_index(const std::string& job, const std::string& hash, const std::string& other);
// Flips one bit of a hash in the index of photos; the table stays right.
void flip_in_photo_index(const std::string& job, const std::string& hash);

}  // namespace tapwright::test
