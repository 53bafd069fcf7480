using System.Globalization;
using Derivid.Client;
using Derivid.Page.Forms;
using Derivid.Page.Sessions;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Http;

namespace Derivid.Page;

/// <summary>What every view has: the request, the service, and a time to load before it is written.</summary>
public abstract class View : ComponentBase
{
    /// <summary>The request.</summary>
    [CascadingParameter]
    public required HttpContext Context { get; set; }

    /// <summary>The service, as whoever is signed in.</summary>
    [Inject]
    public required DerividClient Client { get; set; }

    /// <summary>Sends the reader to another address.</summary>
    [Inject]
    public required NavigationManager Navigation { get; set; }

    /// <summary>Who is signed in. Missing: null, nobody.</summary>
    protected Session? Session => Session.Of(Context);

    /// <summary>Cancelled when the reader goes away.</summary>
    protected CancellationToken Gone => Context.RequestAborted;

    /// <inheritdoc/>
    /// <remarks>The framework would write the view once before it is loaded; here it is loaded first.</remarks>
    public override async Task SetParametersAsync(ParameterView parameters)
    {
        parameters.SetParameterProperties(this);
        await LoadAsync();
        await base.SetParametersAsync(ParameterView.Empty);
    }

    /// <summary>Fetches what the view shows; also when one of its forms was sent, before the form is dealt with.</summary>
    protected virtual Task LoadAsync() => Task.CompletedTask;

    /// <summary>A whole number of an address, none below 0.</summary>
    /// <param name="text">As the address has it.</param>
    /// <returns>Missing: null, it has none, or something else.</returns>
    protected static int? Whole(string? text) => int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out var number) ? number : null;

    /// <summary>Reads one of the view's forms.</summary>
    /// <param name="name">The form's name.</param>
    protected PostedForm Form(string name) => PostedForm.Of(Context, name);
}
