/* A disk that fails when it is told to: loaded before the C library, it counts what a program changes below one folder,
 * and at one of these calls it lets the program die, the disk be full or broken, or the power go.
 *
 * FAILING_BELOW  the folder, as its real path; without it nothing is changed
 * FAILING_HOW    count, kill, torn, full, full-once, broken, broken-once, read-only, power
 * FAILING_AT     the number of the call at which it happens, from 1; 0 for never
 * FAILING_SEED   which unsynced writes a power cut takes
 * FAILING_DICE   what the program draws
 * FAILING_CLOCK  where its clock begins, in milliseconds since 1970; it goes on by one at each look
 * FAILING_TELL   a file into which the number of calls is written when the program ends by itself
 *
 * What was written and not yet synced is remembered. A power cut takes all of it back and does a part of it again, in
 * sectors. Names are taken to be safe at once. No real sync is waited for: the kernel outlives the program. */

#define _GNU_SOURCE
#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/syscall.h>
#include <sys/types.h>
#include <time.h>
#include <unistd.h>

enum how { COUNT, KILL, TORN, FULL, FULL_ONCE, BROKEN, BROKEN_ONCE, READ_ONLY, POWER };
static const char *const HOWS[] = {"count",  "kill",        "torn",      "full", "full-once",
                                   "broken", "broken-once", "read-only", "power"};

/* What a call needs of the disk. */
enum need { ROOM, A_NAME, NOTHING };

/* A part of a disk that is written at once or not at all. */
#define SECTOR 512

static char below[4096];
static enum how how = COUNT;
static uint64_t at, calls, chance, dice;
static int64_t clock_now;
static const char *tell_file;

static uint64_t draw(uint64_t *from) {
    /* splitmix64 (Steele, Lea, Flood 2014). */
    uint64_t z = (*from += 0x9e3779b97f4a7c15u);
    z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9u;
    z = (z ^ (z >> 27)) * 0x94d049bb133111ebu;
    return z ^ (z >> 31);
}

static uint64_t number(const char *name) {
    const char *text = getenv(name);
    return text ? strtoull(text, NULL, 10) : 0;
}

__attribute__((constructor)) static void begin(void) {
    const char *folder = getenv("FAILING_BELOW"), *wanted = getenv("FAILING_HOW");
    if (folder && strlen(folder) < sizeof below)
        strcpy(below, folder);
    for (int i = 0; wanted && i < (int)(sizeof HOWS / sizeof *HOWS); i++)
        if (!strcmp(wanted, HOWS[i]))
            how = (enum how)i;
    at = number("FAILING_AT");
    chance = number("FAILING_SEED");
    dice = number("FAILING_DICE");
    clock_now = (int64_t)number("FAILING_CLOCK");
    tell_file = getenv("FAILING_TELL");
}

/* ---- which files are watched */

static int starts_below(const char *path) {
    size_t length = strlen(below);
    return length && !strncmp(path, below, length) && (path[length] == '/' || !path[length]);
}

static int watched_fd(int fd) {
    char link[64], path[4096];
    if (!*below)
        return 0;
    snprintf(link, sizeof link, "/proc/self/fd/%d", fd);
    ssize_t length = readlink(link, path, sizeof path - 1);
    if (length <= 0)
        return 0;
    path[length] = 0;
    return starts_below(path);
}

static int watched_path(int folder, const char *path) {
    char around[4096];
    if (!*below || !path)
        return 0;
    if (*path == '/')
        return starts_below(path);
    if (folder != AT_FDCWD)
        return watched_fd(folder);
    return getcwd(around, sizeof around) && starts_below(around);
}

/* ---- what was written and not synced */

struct disk_file {
    struct disk_file *next;
    dev_t dev;
    ino_t ino;
    int fd; /* never closed: closing it would give up the program's own locks */
};

struct change {
    struct change *before;
    struct disk_file *file;
    off_t offset, size;  /* size: of the whole file, before */
    size_t length, kept; /* kept: bytes that stood there */
    char *data, *stood;  /* no data: it was cut to `offset` */
};

static struct disk_file *files;
static struct change *last;

static struct disk_file *disk_file(int fd) {
    struct stat about;
    char link[64];
    if (fstat(fd, &about) || !S_ISREG(about.st_mode))
        return NULL;
    for (struct disk_file *it = files; it; it = it->next)
        if (it->dev == about.st_dev && it->ino == about.st_ino)
            return it;
    snprintf(link, sizeof link, "/proc/self/fd/%d", fd);
    char path[4096];
    ssize_t length = readlink(link, path, sizeof path - 1);
    /* Shared memory is not on the disk. */
    if (length > 4 && !strncmp(path + length - 4, "-shm", 4))
        return NULL;
    int own = (int)syscall(SYS_openat, AT_FDCWD, link, O_RDWR | O_CLOEXEC, 0);
    if (own < 0)
        return NULL;
    struct disk_file *it = malloc(sizeof *it);
    *it = (struct disk_file){files, about.st_dev, about.st_ino, own};
    return files = it;
}

/* Remembers a write of `length` bytes at `offset`, or, without data, a cut to `offset`. */
static void remember(int fd, off_t offset, const void *data, size_t length) {
    struct stat about;
    struct disk_file *file = how == POWER ? disk_file(fd) : NULL;
    if (!file || fstat(fd, &about))
        return;
    struct change *it = calloc(1, sizeof *it);
    *it = (struct change){.before = last, .file = file, .offset = offset, .size = about.st_size, .length = length};
    size_t old = about.st_size > offset ? (size_t)(about.st_size - offset) : 0;
    if (data && old > length)
        old = length;
    it->stood = malloc(old + 1);
    ssize_t read = pread(file->fd, it->stood, old, offset);
    it->kept = read > 0 ? (size_t)read : 0;
    if (data) {
        it->data = malloc(length + 1);
        memcpy(it->data, data, length);
    }
    last = it;
}

static void forget_synced(int fd) {
    struct disk_file *file = how == POWER ? disk_file(fd) : NULL;
    for (struct change **it = &last; file && *it;)
        if ((*it)->file == file)
            *it = (*it)->before;
        else
            it = &(*it)->before;
}

static void put(int fd, const char *data, size_t length, off_t offset) {
    if (syscall(SYS_pwrite64, fd, data, length, offset) != (long)length)
        abort();
}

static void do_again(struct change *it) {
    if (!it)
        return;
    do_again(it->before);
    uint64_t part = draw(&chance) % 4; /* half of all writes not at all, a quarter whole, a quarter by sectors */
    if (part < 2)
        return;
    if (!it->data) {
        if (syscall(SYS_ftruncate, it->file->fd, it->offset))
            abort();
        return;
    }
    for (size_t from = 0; from < it->length;) {
        size_t to = from + SECTOR - (size_t)((it->offset + (off_t)from) % SECTOR);
        to = to > it->length ? it->length : to;
        if (part == 2 || draw(&chance) % 2)
            put(it->file->fd, it->data + from, to - from, it->offset + (off_t)from);
        from = to;
    }
}

static void cut_power(void) {
    for (struct change *it = last; it; it = it->before) {
        put(it->file->fd, it->stood, it->kept, it->offset);
        if (syscall(SYS_ftruncate, it->file->fd, it->size))
            abort();
    }
    do_again(last);
    raise(SIGKILL);
}

__attribute__((destructor)) static void end(void) {
    char text[32];
    /* The power may go once everything is done: what was acknowledged must be on the disk by then. */
    if (how == POWER && at > calls)
        cut_power();
    if (!tell_file)
        return;
    int fd = (int)syscall(SYS_openat, AT_FDCWD, tell_file, O_WRONLY | O_CREAT | O_TRUNC, 0600);
    int length = snprintf(text, sizeof text, "%llu\n", (unsigned long long)calls);
    if (fd >= 0 && syscall(SYS_write, fd, text, length) != length)
        abort();
}

/* ---- what happens at a call */

/* Counts a call, and lets happen what is to happen before it: 0, or the error with which it fails. */
static int before(enum need need) {
    calls++;
    if (!at || calls < at)
        return 0;
    int now = calls == at;
    if (now && how == KILL)
        raise(SIGKILL);
    if (now && how == POWER)
        cut_power();
    if ((how == FULL || (how == FULL_ONCE && now)) && need != NOTHING)
        return ENOSPC;
    if (how == BROKEN || (how == BROKEN_ONCE && now))
        return EIO;
    return how == READ_ONLY ? EROFS : 0;
}

/* Dies after a call that was done by half, or is no writing. */
static void after(void) {
    if (how == TORN && at && calls == at)
        raise(SIGKILL);
}

static int is_torn(void) { return how == TORN && at && calls == at; }

/* A disk gets full within a write, not between two. */
static int fills_up(size_t count) { return how == FULL && calls == at && count > 1; }

#define FAIL(error)                                                                                                    \
    do {                                                                                                               \
        errno = (error);                                                                                               \
        return -1;                                                                                                     \
    } while (0)

static int open_it(int folder, const char *path, int flags, mode_t mode) {
    int writes = (flags & O_ACCMODE) != O_RDONLY || (flags & (O_CREAT | O_TRUNC));
    if (!writes || !watched_path(folder, path))
        return (int)syscall(SYS_openat, folder, path, flags, mode);
    struct stat about;
    int makes = (flags & O_CREAT) && fstatat(folder, path, &about, 0);
    int error = before(makes ? A_NAME : NOTHING);
    if (error)
        FAIL(error);
    int fd = (int)syscall(SYS_openat, folder, path, flags & ~O_TRUNC, mode);
    if (fd >= 0 && (flags & O_TRUNC)) {
        remember(fd, 0, NULL, 0);
        if (syscall(SYS_ftruncate, fd, 0))
            abort();
    }
    after();
    return fd;
}

#define OPEN(name, folder_argument, folder)                                                                            \
    int name(folder_argument const char *path, int flags, ...) {                                                       \
        va_list rest;                                                                                                  \
        va_start(rest, flags);                                                                                         \
        mode_t mode = (flags & (O_CREAT | O_TMPFILE)) ? va_arg(rest, mode_t) : 0;                                      \
        va_end(rest);                                                                                                  \
        return open_it(folder, path, flags, mode);                                                                     \
    }
#define NO_FOLDER
#define COMMA ,
OPEN(open, NO_FOLDER, AT_FDCWD)
OPEN(open64, NO_FOLDER, AT_FDCWD)
OPEN(openat, int folder COMMA, folder)
OPEN(openat64, int folder COMMA, folder)

static ssize_t write_it(int fd, const void *data, size_t count, off_t offset, int placed) {
    if (!watched_fd(fd))
        return placed ? syscall(SYS_pwrite64, fd, data, count, offset) : syscall(SYS_write, fd, data, count);
    int fills = 0, error = before(ROOM);
    if (error == ENOSPC && fills_up(count))
        fills = 1;
    else if (error)
        FAIL(error);
    size_t done = is_torn() || fills ? count / 2 : count;
    if (!placed) {
        struct stat about;
        int appends = fcntl(fd, F_GETFL) & O_APPEND;
        offset = appends && !fstat(fd, &about) ? about.st_size : lseek(fd, 0, SEEK_CUR);
    }
    remember(fd, offset, data, done);
    ssize_t written =
        placed ? syscall(SYS_pwrite64, fd, data, done, offset) : syscall(SYS_write, fd, data, done);
    after();
    return written;
}

ssize_t write(int fd, const void *data, size_t count) { return write_it(fd, data, count, 0, 0); }
ssize_t pwrite(int fd, const void *data, size_t count, off_t offset) { return write_it(fd, data, count, offset, 1); }
ssize_t pwrite64(int fd, const void *data, size_t count, off_t offset) { return write_it(fd, data, count, offset, 1); }

static int cut_it(int fd, off_t length) {
    struct stat about;
    if (watched_fd(fd)) {
        int grows = !fstat(fd, &about) && about.st_size < length;
        int error = before(grows ? ROOM : NOTHING);
        if (error)
            FAIL(error);
        remember(fd, length, NULL, 0);
    }
    int done = (int)syscall(SYS_ftruncate, fd, length);
    if (watched_fd(fd))
        after();
    return done;
}

int ftruncate(int fd, off_t length) { return cut_it(fd, length); }
int ftruncate64(int fd, off_t length) { return cut_it(fd, length); }

static int sync_it(int fd) {
    if (!watched_fd(fd))
        return (int)syscall(SYS_fsync, fd);
    int error = before(NOTHING);
    if (error)
        FAIL(error);
    forget_synced(fd);
    after();
    return 0;
}

int fsync(int fd) { return sync_it(fd); }
int fdatasync(int fd) { return sync_it(fd); }

/* A call that changes names: counted where it is watched, then done. */
#define NAMES(watched, need, call)                                                                                     \
    int counted = (watched);                                                                                           \
    int error = counted ? before(need) : 0;                                                                            \
    if (error)                                                                                                         \
        FAIL(error);                                                                                                   \
    int done = (int)(call);                                                                                            \
    if (counted)                                                                                                       \
        after();                                                                                                       \
    return done;

int unlinkat(int folder, const char *path, int flags) {
    NAMES(watched_path(folder, path), NOTHING, syscall(SYS_unlinkat, folder, path, flags))
}
int unlink(const char *path) { return unlinkat(AT_FDCWD, path, 0); }
int rmdir(const char *path) { return unlinkat(AT_FDCWD, path, AT_REMOVEDIR); }
int renameat2(int from, const char *old, int to, const char *new, unsigned flags) {
    NAMES(watched_path(to, new), NOTHING, syscall(SYS_renameat2, from, old, to, new, flags))
}
int renameat(int from, const char *old, int to, const char *new) { return renameat2(from, old, to, new, 0); }
int rename(const char *old, const char *new) { return renameat2(AT_FDCWD, old, AT_FDCWD, new, 0); }
int linkat(int from, const char *old, int to, const char *new, int flags) {
    NAMES(watched_path(to, new), A_NAME, syscall(SYS_linkat, from, old, to, new, flags))
}
int link(const char *old, const char *new) { return linkat(AT_FDCWD, old, AT_FDCWD, new, 0); }
int mkdirat(int folder, const char *path, mode_t mode) {
    struct stat about;
    NAMES(watched_path(folder, path) && fstatat(folder, path, &about, 0), A_NAME,
          syscall(SYS_mkdirat, folder, path, mode))
}
int mkdir(const char *path, mode_t mode) { return mkdirat(AT_FDCWD, path, mode); }

/* ---- time and chance that repeat themselves */

int clock_gettime(clockid_t which, struct timespec *time) {
    if (which != CLOCK_REALTIME || !clock_now)
        return (int)syscall(SYS_clock_gettime, which, time);
    clock_now++;
    *time = (struct timespec){clock_now / 1000, clock_now % 1000 * 1000000};
    return 0;
}

ssize_t getrandom(void *bytes, size_t count, unsigned flags) {
    if (!dice)
        return syscall(SYS_getrandom, bytes, count, flags);
    for (size_t i = 0; i < count; i++)
        ((unsigned char *)bytes)[i] = (unsigned char)draw(&dice);
    return (ssize_t)count;
}
