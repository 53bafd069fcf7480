using System.CommandLine;
using System.Text;
using System.Text.Json;
using Derivid.Contracts;

namespace Derivid.Cli.Teaching;

/// <summary>The options by which a course is described; one that is left out leaves what stands.</summary>
internal sealed class CourseOptions
{
    private readonly Option<string?> _name = new("--name") { Description = "Its name.", HelpName = "TEXT" };

    private readonly Option<string[]> _shelf = Many("--shelf", "What can be in the vials: names, keys or CAS numbers.");

    private readonly Option<string?> _shelfFile = new("--shelf-file")
    {
        Description = "File with the same, one a line; empty lines and what follows a # are passed over.",
        HelpName = "FILE",
    };

    private readonly Option<string[]> _kinds = Many("--kind", "The derivatives that can be made; others earn nothing.");

    private readonly Option<string[]> _tests = Many("--spot-test", "The spot tests that can be run; others earn nothing.");

    private readonly Option<bool?> _boilingPoint = Flag("--boiling-point", "The boiling point of the unknown is taken.");

    private readonly Option<bool?> _meltingPoint = Flag("--melting-point", "The melting point of a solid unknown is taken.");

    private readonly Option<double?> _window = OptionOf.Number("--window", "°C", "Half width of the tolerance window. Default: 5.");

    private readonly Option<string?> _rubric = new("--rubric") { Description = "File with the rubric, JSON. Default: the usual one.", HelpName = "FILE" };

    private readonly Option<int?> _version = new("--table-version")
    {
        Description = "Version of the reference table it holds to. Default: the current one.",
        HelpName = "NUMBER",
    };

    private readonly Option<DateTimeOffset?> _dueAt = new("--due-at") { Description = "When reports are due, such as 2026-10-23T17:00+02:00.", HelpName = "MOMENT" };

    private readonly Option<DateTimeOffset?> _closesAt = new("--closes-at") { Description = "From when on no report is taken.", HelpName = "MOMENT" };

    private readonly Option<int?> _grace = new("--grace-minutes") { Description = "Minutes past due that are not late. Default: 0.", HelpName = "MINUTES" };

    private readonly Option<int?> _attempts = new("--attempts") { Description = "Reports that may be handed in for one unknown. Default: 1.", HelpName = "NUMBER" };

    private readonly Option<bool?> _best = Flag("--best", "Of several reports the best counts, not the last.");

    private readonly Option<bool?> _ranking = Flag("--shows-ranking", "Students see what the engine makes of their report.");

    private readonly Option<bool?> _examination = Flag("--examination", "Nothing is identified for its students while it takes reports.");

    private readonly Option<bool?> _practice = Flag("--practice", "Whoever has handed in is told what the unknown was, and nothing counts.");

    private readonly Option<bool?> _anonymous = Flag("--anonymous", "Nobody is told whose a report is until grades are published.");

    private readonly Option<bool?> _learnedFrom = Flag("--learned-from", "The table may learn from its reports once grades are published, by counts and means that tell of no student; its students are told so.");

    public void AddTo(Command command)
    {
        foreach (var option in (Option[])
            [
                _name, _shelf, _shelfFile, _kinds, _tests, _boilingPoint, _meltingPoint, _window, _rubric, _version, _dueAt, _closesAt, _grace,
                _attempts, _best, _ranking, _examination, _practice, _anonymous, _learnedFrom,
            ])
        {
            command.Add(option);
        }
    }

    /// <summary>Writes what was typed over a description.</summary>
    /// <exception cref="UsageException">A file can't be read.</exception>
    public async Task<CourseRequest> IntoAsync(CourseRequest described, ParseResult parsed, Session session, CancellationToken cancellationToken) => described with
    {
        Name = parsed.GetValue(_name) ?? described.Name,
        ShelfList = [.. await ShelfAsync(parsed, session, cancellationToken) is { Count: > 0 } shelf ? shelf : described.ShelfList],
        DerivativeKinds = parsed.GetValue(_kinds) is { Length: > 0 } kinds ? kinds : described.DerivativeKinds,
        SpotTests = parsed.GetValue(_tests) is { Length: > 0 } tests ? tests : described.SpotTests,
        TakesBoilingPoint = parsed.GetValue(_boilingPoint) ?? described.TakesBoilingPoint,
        TakesMeltingPoint = parsed.GetValue(_meltingPoint) ?? described.TakesMeltingPoint,
        WindowCelsius = parsed.GetValue(_window) ?? described.WindowCelsius,
        Rubric = parsed.GetValue(_rubric) is { } file ? await ReadRubricAsync(file, session, cancellationToken) : described.Rubric,
        TableVersion = parsed.GetValue(_version) ?? described.TableVersion,
        DueAt = parsed.GetValue(_dueAt) ?? described.DueAt,
        ClosesAt = parsed.GetValue(_closesAt) ?? described.ClosesAt,
        GraceMinutes = parsed.GetValue(_grace) ?? described.GraceMinutes,
        MostAttempts = parsed.GetValue(_attempts) ?? described.MostAttempts,
        CountedAttempt = parsed.GetValue(_best) is { } best ? (best ? CountedAttempt.Best : CountedAttempt.Last) : described.CountedAttempt,
        ShowsRanking = parsed.GetValue(_ranking) ?? described.ShowsRanking,
        IsExamination = parsed.GetValue(_examination) ?? described.IsExamination,
        IsPractice = parsed.GetValue(_practice) ?? described.IsPractice,
        IsMarkedAnonymously = parsed.GetValue(_anonymous) ?? described.IsMarkedAnonymously,
        IsLearnedFrom = parsed.GetValue(_learnedFrom) ?? described.IsLearnedFrom,
    };

    /// <summary>A course as it would be described again.</summary>
    public static CourseRequest Of(CourseItem course) => new()
    {
        Name = course.Name,
        TableVersion = course.TableVersion,
        ShelfList = course.ShelfList,
        DerivativeKinds = course.DerivativeKinds,
        SpotTests = course.SpotTests,
        TakesBoilingPoint = course.TakesBoilingPoint,
        TakesMeltingPoint = course.TakesMeltingPoint,
        WindowCelsius = course.WindowCelsius,
        Rubric = course.Rubric,
        DueAt = course.DueAt,
        ClosesAt = course.ClosesAt,
        GraceMinutes = course.GraceMinutes,
        MostAttempts = course.MostAttempts,
        CountedAttempt = course.CountedAttempt,
        ShowsRanking = course.ShowsRanking,
        IsInvented = course.IsInvented,
        IsExamination = course.IsExamination,
        IsPractice = course.IsPractice,
        IsMarkedAnonymously = course.IsMarkedAnonymously,
        IsLearnedFrom = course.IsLearnedFrom,
    };

    /// <summary>Reads a rubric from its file.</summary>
    /// <exception cref="UsageException">It can't be read, or holds no JSON.</exception>
    public static async Task<JsonElement> ReadRubricAsync(string file, Session session, CancellationToken cancellationToken)
    {
        try
        {
            using var rubric = JsonDocument.Parse(await Files.ReadAsync(file, session.Around, cancellationToken));
            return rubric.RootElement.Clone();
        }
        catch (JsonException fault)
        {
            throw new UsageException($"{file} holds no JSON: {fault.Message}");
        }
    }

    private async Task<List<string>> ShelfAsync(ParseResult parsed, Session session, CancellationToken cancellationToken)
    {
        List<string> shelf = [.. parsed.GetValue(_shelf) ?? []];
        if (parsed.GetValue(_shelfFile) is { } file)
        {
            var text = Encoding.UTF8.GetString((await Files.ReadAsync(file, session.Around, cancellationToken)).Span);
            shelf.AddRange(text.TrimStart('\uFEFF').Split('\n').Select(line => line.Split('#')[0].Trim()).Where(line => line.Length > 0));
        }

        return shelf;
    }

    private static Option<string[]> Many(string name, string description) => new(name)
    {
        Description = description,
        HelpName = "NAME...",
        AllowMultipleArgumentsPerToken = true,
    };

    private static Option<bool?> Flag(string name, string description) => new(name) { Description = description + " false takes it back." };
}
