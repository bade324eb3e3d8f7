## Needs the review of a native speaker.

letter-from = De los vecinos que llevan, como voluntarios, la encuesta de calentadores de agua
letter-title = ¿Qué edad tiene su calentador de agua?
letter-body = La mayoría de los calentadores de aquí se instalaron juntos y envejecen juntos. Al final todos tienen una fuga. Una fuga es un piso mojado, un trabajo con prisa y un precio alto.
    Cuéntenos del suyo. Toma tres minutos. Luego ve cómo está su calentador, y los vecinos pueden cuidarlo o reemplazarlo juntos, por menos. Usted decide, no cuesta nada, y un sí no le obliga a nada.
letter-until = Por favor responda antes del { $day }. Más tarde también sirve.
letter-how-head = Por teléfono o computadora
letter-how = Apunte la cámara de su teléfono al cuadro, o escriba { $address }.
    Luego escriba el código de abajo. Abre su casa y ninguna otra.
letter-code = Su código privado
letter-code-signs = No tiene las letras I, L ni O, ni las cifras 0 ni 1. Las mayúsculas y los guiones no importan.
letter-privacy-head = Quién ve qué
letter-privacy = Los voluntarios que llevan la encuesta ven sus respuestas.
    El comité y los vecinos solo ven cifras de muchas casas juntas.
    Si dice que sí o tal vez a un día de servicio o a una compra en grupo, el comité y los trabajadores ven su dirección.
    Nada se vende ni se envía a nadie más. Las respuestas de hace más de { $years } años se borran.
    Usted puede ver, corregir, imprimir y borrar todo con su código.
letter-paper-head = O en papel.
letter-paper = Llene el reverso de esta hoja y llévela a quien se nombra abajo. "No sé" es una buena respuesta.
letter-ask = ¿Preguntas, o perdió el código?
letter-other = En breve: los vecinos preguntan por su calentador de agua, para cuidarlo o reemplazarlo juntos, por menos.
    Apunte la cámara de su teléfono al cuadro. Toque "Español" y escriba el código de arriba. Por favor responda antes del { $day }.
    Los voluntarios ven sus respuestas. El comité y los vecinos solo ven cifras de muchas casas; si dice que sí o tal vez a un día de servicio o a una compra, el comité y los trabajadores ven su dirección.
    También puede pedir esta carta y su formulario en español.
letter-first = ¿Huele a gas? { -gas-out } ¿Se abrió la válvula de alivio? No se acerque: el agua quema. Llame a un contratista con licencia. ¿Agua en el piso? Cierre el agua fría en el calentador. La encuesta puede esperar.
letter-form = El formulario en papel
letter-look = Solo mire. No abra ni gire nada. Marque las casillas que correspondan. Deje en blanco lo que no sepa. Las fechas pueden ser aproximadas: basta "hacia 2012" o "nunca".
letter-bring = Por favor llévelo antes del { $day } a:
letter-sheet = Hoja { $number }
