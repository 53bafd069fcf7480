using Microsoft.AspNetCore.Components;

namespace Derivid.Page.Forms;

/// <summary>What every field has: a name, a label, perhaps a hint, what was typed, and what is wrong with it.</summary>
public abstract class FieldBase : ComponentBase
{
    /// <summary>Its name: a place in the request, or a name of the page's own; see <see cref="PostedForm"/>.</summary>
    [Parameter]
    [EditorRequired]
    public required string Name { get; set; }

    /// <summary>What it asks for.</summary>
    [Parameter]
    [EditorRequired]
    public required string Label { get; set; }

    /// <summary>A line of help. Missing: null.</summary>
    [Parameter]
    public string? Hint { get; set; }

    /// <summary>What it holds before anything was typed. Missing: null, nothing.</summary>
    [Parameter]
    public string? Value { get; set; }

    /// <summary>The form it stands in.</summary>
    [CascadingParameter]
    public required PostedForm Form { get; set; }

    /// <summary>The row of a list it stands in, such as "Derivative 2". Missing: null, there are no others like it.</summary>
    [CascadingParameter(Name = "Row")]
    public string? Row { get; set; }

    /// <inheritdoc/>
    protected override void OnParametersSet() => Form.Call(Name, Row is null ? Label : $"{Row}, {Label}");

    /// <summary>Its id.</summary>
    protected string Id => FieldId.Of(Name);

    /// <summary>What it shows: what was typed, else what it holds.</summary>
    protected string? Shown => Form.IsSent ? Form[Name] : Value;

    /// <summary>What is wrong with it.</summary>
    protected IReadOnlyList<string> Faults => [.. Form.FaultsOf(Name)];

    /// <summary>Whether anything is.</summary>
    protected string? Invalid => Faults.Count > 0 ? "true" : null;

    /// <summary>The ids of its hint and faults.</summary>
    protected string? Description => FieldId.Description(Name, Hint is not null, Faults.Count > 0);
}
