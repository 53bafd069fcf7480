using System.Net.Http.Headers;
using System.Text;

namespace Derivid.Client;

/// <summary>A Derivid service, over HTTP.</summary>
/// <remarks>
/// Thread-safe; one for the life of a program is enough. Everything it does throws
/// <see cref="DerividException"/> when the service refuses, <see cref="HttpRequestException"/> when it can't be
/// reached, and <see cref="TaskCanceledException"/> when it doesn't answer in time.
/// </remarks>
public sealed class DerividClient : IDisposable
{
    private readonly HttpClient _http;

    /// <summary>Uses an HTTP client of yours, whose base address must be the service's and end in "/".</summary>
    /// <param name="http">The client; it is disposed with this one. Its handlers decide about retries.</param>
    public DerividClient(HttpClient http)
    {
        ArgumentNullException.ThrowIfNull(http);
        if (http.BaseAddress is not { IsAbsoluteUri: true } address || !address.AbsolutePath.EndsWith('/'))
        {
            throw new ArgumentException("The base address is missing or doesn't end in \"/\".", nameof(http));
        }

        _http = http;
        var wire = new Wire(http);
        Identifications = new IdentificationsClient(wire);
        Table = new TableClient(wire);
        Practice = new PracticeClient(wire);
        Proposals = new ProposalsClient(wire);
        Imports = new ImportsClient(wire);
        Verification = new VerificationClient(wire);
        Courses = new CoursesClient(wire);
        Reports = new ReportsClient(wire);
        Grades = new GradesClient(wire);
        Thermometers = new ThermometersClient(wire);
        Keys = new KeysClient(wire);
        Audit = new AuditClient(wire);
    }

    /// <summary>Identifying unknowns.</summary>
    public IdentificationsClient Identifications { get; }

    /// <summary>Reading the reference table.</summary>
    public TableClient Table { get; }

    /// <summary>Making derivatives.</summary>
    public PracticeClient Practice { get; }

    /// <summary>Changing the reference table, by proposals.</summary>
    public ProposalsClient Proposals { get; }

    /// <summary>Loading whole files into proposals.</summary>
    public ImportsClient Imports { get; }

    /// <summary>Typing values of the table from a source.</summary>
    public VerificationClient Verification { get; }

    /// <summary>Courses, rosters and the unknowns handed out.</summary>
    public CoursesClient Courses { get; }

    /// <summary>Reports on unknowns.</summary>
    public ReportsClient Reports { get; }

    /// <summary>Grading reports.</summary>
    public GradesClient Grades { get; }

    /// <summary>Registering thermometers and telling what standards read on them.</summary>
    public ThermometersClient Thermometers { get; }

    /// <summary>Giving out keys and taking them back.</summary>
    public KeysClient Keys { get; }

    /// <summary>Reading the audit log.</summary>
    public AuditClient Audit { get; }

    /// <summary>Connects to a service, and waits where it asks to (429 and 503 with Retry-After): at most three times.</summary>
    /// <param name="server">The service's address, such as http://127.0.0.1:5080.</param>
    /// <param name="key">Your key. Missing: null, for what needs none.</param>
    /// <param name="time">The clock. Missing: the system's.</param>
    /// <param name="whenWaiting">Hears each time it waits, before it does. Missing: nobody does.</param>
    public static DerividClient Connect(Uri server, string? key = null, TimeProvider? time = null, Action<Waiting>? whenWaiting = null)
    {
        ArgumentNullException.ThrowIfNull(server);
        var http = new HttpClient(new PatientHandler(Sockets(), time ?? TimeProvider.System, whenWaiting))
        {
            BaseAddress = server.AbsolutePath.EndsWith('/') ? server : new Uri(server.AbsoluteUri + "/"),
            Timeout = TimeSpan.FromMinutes(5),
        };
        if (key is not null)
        {
            http.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", key);
        }

        return new DerividClient(http);
    }

    /// <summary>Sockets such as a client needs that is made of your own handlers.</summary>
    public static SocketsHttpHandler Sockets() => new()
    {
        // Reasons for the audit log are in the writer's language.
        RequestHeaderEncodingSelector = (name, _) => name == Wire.ReasonHeader ? Encoding.UTF8 : null,
        AllowAutoRedirect = false,
    };

    /// <inheritdoc/>
    public void Dispose() => _http.Dispose();
}

/// <summary>Something as it was last seen, with the tag (RFC 9110) that a change of it has to name.</summary>
/// <typeparam name="T">What it is.</typeparam>
/// <param name="Value">The thing.</param>
/// <param name="Tag">Its entity tag.</param>
public sealed record Versioned<T>(T Value, string Tag);
