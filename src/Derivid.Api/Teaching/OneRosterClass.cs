using System.IO.Compression;
using Derivid.Api.Http;
using Derivid.Contracts;
using Derivid.Core.Teaching.HandOuts;
using Derivid.Store.Seeding;

namespace Derivid.Api.Teaching;

/// <summary>The students of one class, as a OneRoster 1.2 archive in bulk mode tells them.</summary>
/// <remarks>
/// Of users.csv only sourcedId, status and, where it is asked for, identifier are read; names, e-mail addresses and all the rest go
/// no farther than the temporary file that the archive is unpacked to, which is gone with the request. Source: OneRoster CSV
/// Binding 1.2, the tables of manifest.csv, users.csv, enrollments.csv and classes.csv.
/// </remarks>
/// <param name="Students">Their identifiers. Shape: each once.</param>
/// <param name="Remarks">What was not read, by name.</param>
public sealed record OneRosterClass(IReadOnlyList<string> Students, IReadOnlyList<string> Remarks)
{
    // Chosen: those of a large institution in one term.
    private const int MostClasses = 5000;

    // The standard has 22 files; whoever packs them may add a few of their own.
    private const int MostFiles = 64;

    // A class of two thousand takes less than one; a whole school's export still fits.
    private const int LargestFile = 16 * 1024 * 1024;

    private const int LongestCell = 4000;
    private const int MostNamed = 12;

    private const string Manifest = "manifest.csv";
    private const string Users = "users.csv";
    private const string Enrollments = "enrollments.csv";
    private const string Classes = "classes.csv";

    private const string Id = "sourcedid";
    private const string Deleted = "tobedeleted";

    /// <summary>Reads an archive.</summary>
    /// <param name="file">The archive.</param>
    /// <param name="query">Which class, and by which column.</param>
    /// <param name="cancellation">Gives up.</param>
    public static async Task<Outcome<OneRosterClass>> ReadAsync(Stream file, RosterQuery query, CancellationToken cancellation)
    {
        ArgumentNullException.ThrowIfNull(query);
        try
        {
            await using var archive = await ZipArchive.CreateAsync(file, ZipArchiveMode.Read, leaveOpen: true, entryNameEncoding: null, cancellation);
            return await new Reading(query, cancellation).ReadAsync(archive);
        }
        catch (InvalidDataException)
        {
            // Also of a list of files that is found to be damaged only when it is read.
            return FieldErrors.One("", "This is no ZIP archive that can be read.");
        }
    }

    private sealed class Reading(RosterQuery query, CancellationToken cancellation)
    {
        private readonly FieldErrors _errors = new();
        private readonly List<string> _remarks = [];
        private readonly string _column = query.StudentColumn?.Trim().ToLowerInvariant() ?? Id;

        public async Task<Outcome<OneRosterClass>> ReadAsync(ZipArchive archive)
        {
            if (_column is not (Id or "identifier"))
            {
                return FieldErrors.One("?studentColumn", $"{Text.Quoted(query.StudentColumn!)} can't be taken of users.csv; sourcedId and identifier can.");
            }

            var files = FilesOf(archive);
            if (_errors.ToProblem() is { } wrong)
            {
                return wrong;
            }

            if (await ManifestFaultAsync(files) is { } fault)
            {
                return fault;
            }

            if (!(await EnrolledAsync(files)).Succeeded(out var enrolled, out var problem)
                || !(await StudentsAsync(files, enrolled)).Succeeded(out var students, out problem))
            {
                return problem;
            }

            List<string> others = [.. files.Keys.Except([Manifest, Users, Enrollments, Classes], StringComparer.Ordinal)];
            if (others.Count > 0)
            {
                _remarks.Add($"Not read: {string.Join(", ", others.Select(name => Text.Shortened(name)))}.");
            }

            _remarks.Add("Benches, places, neighbours and who students sign in as are not in OneRoster; students who stay keep theirs.");
            return new OneRosterClass(students, _remarks);
        }

        private Dictionary<string, ZipArchiveEntry> FilesOf(ZipArchive archive)
        {
            var files = new Dictionary<string, ZipArchiveEntry>(StringComparer.Ordinal);
            if (archive.Entries.Count > MostFiles)
            {
                _errors.Add("", $"The archive holds {archive.Entries.Count} files; {MostFiles} are allowed, and OneRoster has 22.");
                return files;
            }

            // What a Mac packs beside each file is no file of anybody's.
            foreach (var entry in archive.Entries.Where(entry => !entry.FullName.StartsWith("__MACOSX/", StringComparison.Ordinal)))
            {
                if (entry.FullName.AsSpan().ContainsAny('/', '\\'))
                {
                    _errors.Add("", $"{Text.Quoted(entry.FullName)} stands in a folder; pack the files themselves, without one.");
                }
                else if (!files.TryAdd(entry.FullName, entry))
                {
                    _errors.Add("", $"{Text.Quoted(entry.FullName)} is in the archive twice.");
                }
            }

            foreach (var name in new[] { Users, Enrollments }.Where(name => _errors.Count == 0 && !files.ContainsKey(name)))
            {
                _errors.Add("", $"There is no {name}, which tells the students of a class; the archive holds {string.Join(", ", files.Keys.Select(Text.Quoted))}.");
            }

            return files;
        }

        // Missing: null, the archive can be read as it says.
        private async Task<Problem?> ManifestFaultAsync(Dictionary<string, ZipArchiveEntry> files)
        {
            if (!files.ContainsKey(Manifest))
            {
                _remarks.Add("There is no manifest.csv, which OneRoster asks for; the files are taken for OneRoster 1.2 in bulk mode.");
                return null;
            }

            var said = new Dictionary<string, string>(StringComparer.Ordinal);
            if (await ReadAsync(files, Manifest, ["propertyname", "value"], [], row => said[row("propertyname")] = row("value")) is { } problem)
            {
                return problem;
            }

            var version = said.GetValueOrDefault("oneroster.version", "none");
            if (version != "1.2")
            {
                return FieldErrors.One(Manifest, $"It tells of OneRoster {Text.Quoted(version)}; version 1.2 is read here.");
            }

            foreach (var (name, mode) in new[] { Users, Enrollments }.Select(name => (name, said.GetValueOrDefault("file." + name[..^4], "absent"))))
            {
                if (mode == "delta")
                {
                    return FieldErrors.One(Manifest, $"It says that {name} tells only what changed (delta); a roster is put whole, so export it in bulk mode.");
                }

                if (mode == "absent")
                {
                    _remarks.Add($"manifest.csv says that {name} is absent; it is there and was read.");
                }
            }

            return null;
        }

        // The sourcedIds of the users that the chosen class has for students.
        private async Task<Outcome<HashSet<string>>> EnrolledAsync(Dictionary<string, ZipArchiveEntry> files)
        {
            var classes = new SortedDictionary<string, HashSet<string>>(StringComparer.Ordinal);
            var isTooMuch = false;
            var problem = await ReadAsync(files, Enrollments, ["classsourcedid", "usersourcedid", "role"], ["status"], row =>
            {
                if (row("role") != "student" || row("status") == Deleted)
                {
                    return;
                }

                var name = row("classsourcedid");
                if (!classes.TryGetValue(name, out var users))
                {
                    isTooMuch |= classes.Count == MostClasses;
                    users = new HashSet<string>(StringComparer.Ordinal);
                    if (!isTooMuch)
                    {
                        classes[name] = users;
                    }
                }

                // One more than can be taken says that there are too many.
                if (users.Count <= Roster.LargestCount)
                {
                    users.Add(row("usersourcedid"));
                }
            });
            if (isTooMuch)
            {
                return FieldErrors.One(Enrollments, $"Tells of more than {MostClasses} classes; export those of one teacher or one term.");
            }

            if (problem is not null)
            {
                return problem;
            }

            if (classes.Count == 0)
            {
                return FieldErrors.One(Enrollments, "Holds no student: no row has the role student.");
            }

            if (query.Class is { } named)
            {
                return classes.TryGetValue(named.Trim(), out var chosen)
                    ? chosen
                    : FieldErrors.One("?class", $"No student is enrolled in {Text.Quoted(named)}; {await NamedAsync(files, classes)}.");
            }

            return classes.Count == 1
                ? classes.Values.Single()
                : FieldErrors.One("?class", $"The archive tells of {classes.Count} classes; say which one with ?class=: {await NamedAsync(files, classes)}.");
        }

        private async Task<string> NamedAsync(Dictionary<string, ZipArchiveEntry> files, SortedDictionary<string, HashSet<string>> classes)
        {
            // Titles are a help only; without them the ids have to do.
            var titles = new Dictionary<string, string>(StringComparer.Ordinal);
            if (files.ContainsKey(Classes))
            {
                await ReadAsync(files, Classes, [Id, "title"], [], row => titles[row(Id)] = row("title"));
            }

            var more = classes.Count > MostNamed ? $" and {classes.Count - MostNamed} more" : "";
            return string.Join(", ", classes.Take(MostNamed).Select(each =>
                $"{Text.Quoted(each.Key)}{(titles.TryGetValue(each.Key, out var title) ? $" ({Text.Shortened(title)})" : "")} with {each.Value.Count}")) + more;
        }

        private async Task<Outcome<List<string>>> StudentsAsync(Dictionary<string, ZipArchiveEntry> files, HashSet<string> enrolled)
        {
            var students = new List<string>();
            var taken = 0;
            var problem = await ReadAsync(files, Users, _column == Id ? [Id] : [Id, _column], ["status"], row =>
            {
                if (row("status") == Deleted || !enrolled.Remove(row(Id)))
                {
                    return;
                }

                var key = row(_column);
                if (key.Length == 0)
                {
                    _errors.Add($"{Users}, {_column}", "A student of the class has none there.");
                }
                else if (RosterCsv.IsPersonal(key))
                {
                    _errors.Add(
                        $"{Users}, {_column}",
                        "It holds what looks like a name or an e-mail address, and neither is ever kept here. ?studentColumn= takes the other one of sourcedId and identifier.");
                }
                else
                {
                    students.Add(key);
                }

                taken++;
            });
            if (problem is not null)
            {
                return problem;
            }

            if (enrolled.Count > 0)
            {
                _errors.Add(
                    Users,
                    $"Has no row for {enrolled.Count} whom enrollments.csv has for students of the class: {string.Join(", ", enrolled.Order(StringComparer.Ordinal).Take(MostNamed).Select(Text.Quoted))}{(enrolled.Count > MostNamed ? " and more" : "")}.");
            }

            if (taken > Roster.LargestCount)
            {
                _errors.Add(Enrollments, $"The class has {taken} students; a roster has at most {Roster.LargestCount}.");
            }

            if (_column != Id)
            {
                _remarks.Add("Students are taken by identifier, not by sourcedId; results exported as OneRoster then name them so, which the learning system may not know.");
            }

            return _errors.ToProblem() is { } wrong ? wrong : students;
        }

        // Missing: null, the file is read, and a remark names the columns that were not.
        private async Task<Problem?> ReadAsync(
            Dictionary<string, ZipArchiveEntry> files, string name, string[] needed, string[] known, Action<Func<string, string>> take)
        {
            if (!(await FileBody.ReadEntryAsync(files[name], LargestFile, cancellation)).Succeeded(out var file, out var problem))
            {
                return problem;
            }

            using var held = file;
            using var text = file.TextFromStart();
            using var rows = SheetRows.Read(text, LongestCell).GetEnumerator();
            rows.MoveNext();
            List<string> header = [.. rows.Current.Cells];
            if (needed.Where(column => !header.Contains(column)).ToList() is { Count: > 0 } missing)
            {
                return FieldErrors.One($"{name}, {new CsvPlace(1)}", $"The first line must name the columns, and {string.Join(", ", missing)} is not among them.");
            }

            List<string> foreign = [.. header.Where(column => !needed.Contains(column) && !known.Contains(column))];
            if (foreign.Count > 0)
            {
                _remarks.Add($"Of {name} not read and not kept: {RosterCsv.Named(foreign)}.");
            }

            while (rows.MoveNext())
            {
                var row = rows.Current;
                if (row.Allowed is { } allowed)
                {
                    return FieldErrors.One($"{name}, {new CsvPlace(row.Line)}", $"Allowed: {allowed}.");
                }

                if (row.Cells.Count != header.Count)
                {
                    return FieldErrors.One($"{name}, {new CsvPlace(row.Line)}", $"Holds {row.Cells.Count} cells; the first line has {header.Count}.");
                }

                take(column => header.IndexOf(column) is >= 0 and var at ? row.Cells[at].Trim() : "");
            }

            return null;
        }
    }
}
